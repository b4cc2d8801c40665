"""Every example in a docstring runs, and everything public has a docstring."""

import doctest
import inspect

import pytest

import wheelrate as wr


def is_own(name, value):
    """Say whether a member of one of the package's modules is public and its own."""
    own = getattr(value, "__module__", "").startswith("wheelrate") and not isinstance(value, type(wr))
    return not name.startswith("_") and own and (inspect.isfunction(value) or inspect.isclass(value))


def documented():
    """Walk over the package's public objects and their members."""
    for name in wr.__all__:
        public = getattr(wr, name)
        if inspect.ismodule(public):
            yield from ((f"{name}.{member}", value) for member, value in vars(public).items() if is_own(member, value))
        if inspect.ismodule(public) or isinstance(public, str):
            continue
        yield name, public
        if inspect.isclass(public):
            for member, value in vars(public).items():
                if not member.startswith("_") and (callable(value) or inspect.isdatadescriptor(value)):
                    yield f"{name}.{member}", value


# By name: a class of the bindings lists its members in another order in every process.
DOCUMENTED = dict(sorted(documented(), key=lambda member: member[0]))


@pytest.mark.parametrize("name", DOCUMENTED)
def test_has_a_docstring(name):
    assert (DOCUMENTED[name].__doc__ or "").strip(), f"{name} has no docstring"


EXAMPLES = {name: value.__doc__ for name, value in DOCUMENTED.items() if ">>>" in (value.__doc__ or "")}


def test_there_are_examples():
    assert len(EXAMPLES) >= 5


@pytest.mark.parametrize("name", EXAMPLES)
def test_examples_run(name):
    test = doctest.DocTestParser().get_doctest(EXAMPLES[name], {}, name, None, 0)
    reported = []
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS)
    runner.run(test, out=reported.append)
    assert runner.summarize(verbose=False).failed == 0, "".join(reported)
