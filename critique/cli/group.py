"""The commands as one: what is asked wrongly is told in one line, like every other error."""

import sys
from typing import Any

import click

from critique.words.printed import shown_line


class OneLine(click.ClickException):
    """An end that is told in one line."""

    def show(self, file: Any = None) -> None:
        """On standard error, where the other errors are."""
        click.echo(f"critique: {self.format_message()}", err=True)


class OneLineUsage(OneLine):
    """Wrong usage in one line, with the command whose help says how it is right."""

    exit_code = 2


class Stopped(OneLine):
    """The person at the keyboard ended it (Ctrl-C): what is written comes into its place whole, or not at all."""

    exit_code = 1

    def __init__(self) -> None:
        super().__init__("stopped; nothing is left half-written")

    def show(self, file: Any = None) -> None:
        """Below what the terminal shows of the key."""
        if sys.stderr.isatty():
            click.echo(err=True)
        super().show(file)


class Commands(click.Group):
    """A group whose own usage errors, and those of its commands, take one line, and so does its end by Ctrl-C."""

    def make_context(self, *given: Any, **more: Any) -> click.Context:
        """The group's own arguments."""
        try:
            return super().make_context(*given, **more)
        except click.UsageError as error:
            raise _in_one_line(error) from None

    def invoke(self, ctx: click.Context) -> Any:
        """A command of it, and what that makes of its arguments."""
        try:
            return super().invoke(ctx)
        except click.UsageError as error:
            raise _in_one_line(error) from None
        except KeyboardInterrupt:
            raise Stopped from None


def _in_one_line(error: click.UsageError) -> click.ClickException:
    if isinstance(error, click.exceptions.NoArgsIsHelpError):  # no error: the help is what was asked for
        return error
    told = shown_line(error.format_message()).rstrip(".")
    command = error.ctx.command_path if error.ctx is not None else "critique"
    return OneLineUsage(f"{told}; see {command} --help")
