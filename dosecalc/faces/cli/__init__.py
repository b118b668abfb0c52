"""The command line. Commands are loaded when called, so that --help stays instant."""

from __future__ import annotations

import sys
from importlib import import_module

import click

from dosecalc.faces.cli.table import COMMANDS


class LazyGroup(click.Group):
    """A group whose commands are imported on use; names and one-liners stand in a table."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import the command's module and take its `command`."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"dosecalc.faces.cli.{cmd_name}")
        command = module.command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="dosecalc", prog_name="dosecalc")
def group() -> None:
    """Scale a rate to your own ground, sprayer and spoons: what to weigh, dissolve and spread.

    The product label and local rules come first. dosecalc never says that a dose is safe: it
    says which limits it was held against.
    """


def main() -> None:
    """Run the command line; a refusal is one sentence on standard error and exit code 2."""
    from dosecalc.errors import DoseError

    try:
        code = group.main(standalone_mode=False)
    except DoseError as err:
        click.echo(f"dosecalc: {err}", err=True)
        sys.exit(err.exit_code)
    except click.exceptions.Exit as done:
        sys.exit(done.exit_code)
    except click.Abort:
        sys.exit(1)
    except click.ClickException as err:
        err.show()
        sys.exit(err.exit_code)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(1)
    sys.exit(code if isinstance(code, int) else 0)
