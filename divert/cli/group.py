"""The one command that the others are parts of."""

from __future__ import annotations

import click

from divert.core.version import __version__


@click.group(context_settings={"help_option_names": ["--help", "-h"]})
@click.option("--debug", is_flag=True, help="Show the full error where something fails.")
@click.version_option(__version__, prog_name="divert")
@click.pass_context
def main_group(ctx: click.Context, debug: bool) -> None:
    """Turn a compost site's intake sheets into tonnes that can be walked back to the bucket."""
    ctx.ensure_object(dict)["debug"] = debug
