"""``python -m ellwand_cli`` and the ``ellwand`` script."""

from ellwand_cli.app import app

__all__ = ["main"]


def main() -> None:
    """Run the command line."""
    app(prog_name="ellwand")


if __name__ == "__main__":
    main()
