"""The whole public interface, called with anything: an answer, an error of this package or a TypeError; nothing else.

What opens files, servers and windows is left out: `explore`, `load`, `save`.
"""

import inspect
from types import ModuleType

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_classes import CLASSES

import wheelrate as wr


def taken(name):
    """Give what may be raised: a missing place and a number out of all bounds are said as Python says them."""
    own = (wr.WheelrateError, TypeError)
    if name.endswith(("__getitem__", ".design")):
        return (*own, KeyError, IndexError)
    return (*own, ArithmeticError) if name.startswith("Uncertain.__") else own


OUTSIDE = {"explore", "load", "save"}
OPERATORS = ("getitem", "contains", "eq", "lt", "add", "radd", "sub", "mul", "rmul", "truediv", "rtruediv", "pow")
#: What a parameter of the name takes; anything else is given a length.
SOUND = {
    "end": "rear",
    "load": "bike",
    "travels": (np.array([10.0, 20.0]), "mm"),
    "travel": "50 mm",
    "height": "0.3 m",
    "speed": "30 km/h",
    "units": "metric",
    "draws": 200,
    "garages": 100,
    "road": wr.Road("D"),
}
JUNK = {
    "half a character": "\ud800",
    "no text": "",
    "another text": "gravel",
    "not a number": float("nan"),
    "no numbers": np.array([]),
    "numbers": np.array([1.0, 2.0]),
    "rows": (np.ones((2, 3)), "mm"),
    "a huge count": 2**200,
    "below zero": -1,
    "a list": [],
    "a mapping": {"gravel": "5 mm"},
    "a thing": object(),
    "nothing": None,
}


def callables(found):
    """Give everything public that can be called, by its name."""
    for name in dir(wr):
        value = getattr(wr, name)
        error = inspect.isclass(value) and issubclass(value, BaseException)
        if not (name.startswith("_") or name in OUTSIDE or error or isinstance(value, ModuleType)) and callable(value):
            yield name, value
    operators = {f"__{name}__" for name in OPERATORS}
    for name in CLASSES:
        for value in found[name][:1]:
            for member in dir(value):
                if member in OUTSIDE or (member.startswith("_") and member not in operators):
                    continue
                try:
                    method = getattr(value, member)
                except wr.WheelrateError:
                    continue  # a part that this object has not
                if callable(method):
                    yield f"{name}.{member}", method


def parameters(called):
    try:
        return list(inspect.signature(called).parameters.values())
    except ValueError:  # of a built-in class without a signature
        return [inspect.Parameter("value", inspect.Parameter.POSITIONAL_ONLY)]


def call(called, given):
    positional, named = [], {}
    for parameter, value in given:
        if parameter.kind is parameter.VAR_KEYWORD:
            named["gravel"] = value
        elif parameter.kind is parameter.KEYWORD_ONLY:
            named[parameter.name] = value
        else:
            positional.append(value)
    return called(*positional, **named)


@pytest.mark.filterwarnings("ignore")
def test_one_bad_argument_at_a_time(found):
    """The others sound, or left out: the fault is met where that argument is read."""
    wrong, count = {}, 0
    for name, called in callables(found):
        of = parameters(called)
        for bad in of:
            for kind, value in JUNK.items():
                given = []
                for parameter in of:
                    if parameter is bad:
                        given.append((parameter, value))
                    elif parameter.default is parameter.empty and parameter.kind not in (
                        parameter.VAR_POSITIONAL,
                        parameter.VAR_KEYWORD,
                    ):
                        given.append((parameter, SOUND.get(parameter.name, "5 mm")))
                    elif parameter.kind is parameter.POSITIONAL_OR_KEYWORD and parameter.default is not parameter.empty:
                        given.append((parameter, parameter.default))
                count += 1
                try:
                    call(called, given)
                except taken(name):
                    pass
                except Exception as error:
                    wrong[f"{name}({bad.name}: {kind})"] = f"{type(error).__name__}: {error}"[:160]
    assert count > 10_000
    assert not wrong, "\n".join(f"{where}: {what}" for where, what in wrong.items())


def anything(found):
    """Draw values of every kind that a user may have at hand, with what the package itself has made."""
    numbers = st.one_of(st.integers(), st.floats(), st.booleans())
    units = st.sampled_from(["mm", "N/mm", "kg", "%", "deg", "m/s", "Hz", "gravel", ""])
    texts = st.one_of(
        st.text(max_size=20),
        st.builds("{} {}".format, numbers, units),
        st.sampled_from(["front", "rear", "bike", "bike + rider", "2026-06-30", "rear.shock.spring.rate", "metric"]),
    )
    rows = st.lists(st.one_of(numbers, texts), max_size=4)
    arrays = st.builds(np.array, st.lists(st.floats(), max_size=5))
    own = st.sampled_from([value for values in found.values() for value in values])
    plain = st.one_of(st.none(), numbers, texts, rows, arrays, own, st.binary(max_size=4))
    pairs = st.tuples(st.one_of(numbers, rows, arrays), units)
    return st.one_of(plain, pairs, st.dictionaries(texts, plain, max_size=2), st.lists(plain, max_size=3))


@pytest.mark.filterwarnings("ignore")
def test_any_arguments_at_all(found):
    every = [(name, called) for name, called in callables(found) if "monte_carlo" not in name and "sweep" not in name]
    values = anything(found)

    @settings(max_examples=1500, suppress_health_check=list(HealthCheck))
    @given(st.sampled_from(every), st.data())
    def asked(one, data):
        name, called = one
        given = [(parameter, data.draw(values)) for parameter in parameters(called) if data.draw(st.booleans())]
        try:
            call(called, given)
        except taken(name):
            pass

    asked()
