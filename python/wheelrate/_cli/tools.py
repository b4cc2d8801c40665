"""For editors and shells: the schema of the bike file, completions, the version."""

from __future__ import annotations

import platform
from importlib.util import find_spec

import click

import wheelrate as wr

# What each extra brings, by what it is for.
_EXTRAS = {
    "plot": ("matplotlib",),
    "explore": ("anywidget",),
    "tables": ("pandas", "polars", "xarray", "pyarrow"),
    "uncertainties": ("uncertainties",),
    "sweep": ("pyarrow", "pandas", "polars", "xarray", "tqdm"),
    "cluster": ("distributed", "paramiko"),
}


def version(context: click.Context, _: click.Parameter, asked: bool) -> None:
    """Print the version, what it runs on, and which extras are there."""
    if not asked or context.resilient_parsing:
        return
    click.echo(f"wheelrate {wr.__version__}, Python {platform.python_version()} on {platform.system()}")
    for extra, packages in _EXTRAS.items():
        missing = [package for package in packages if find_spec(package) is None]
        click.echo(f"  {extra}: {'lacks ' + ', '.join(missing) if missing else 'yes'}")
    context.exit()


@click.command()
def schema() -> None:
    """Print the JSON Schema of the bike file, for an editor that completes keys and says what they mean.

    Save it beside the file, wheelrate schema > bike.schema.json, and begin the file with the line
    #:schema ./bike.schema.json
    """
    click.echo(wr.json_schema(), nl=False)


@click.command()
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
def completion(shell: str) -> None:
    r"""Print what makes a shell complete commands, options and files of wheelrate.

    \b
    bash: wheelrate completion bash >> ~/.bashrc
    zsh:  wheelrate completion zsh >> ~/.zshrc
    fish: wheelrate completion fish > ~/.config/fish/completions/wheelrate.fish
    """
    from click.shell_completion import get_completion_class

    from wheelrate.cli import main

    made = get_completion_class(shell)
    assert made is not None
    click.echo(made(main, {}, "wheelrate", "_WHEELRATE_COMPLETE").source())
