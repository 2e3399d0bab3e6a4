"""What the commands about the bench's record take."""

from lastbolt.cli.options import Commands, add


def add_verify(commands: Commands) -> None:
    """`lastbolt verify`."""
    words = (
        "whether an exported record of a job is as it was written: nothing edited, dropped, swapped, cut off"
    )
    verify = add(commands, "verify", words)
    verify.add_argument("file", metavar="FILE", help="the exported record (docs/record.md)")
    verify.add_argument(
        "--head",
        action="append",
        default=[],
        metavar="HASH",
        help="the head printed on a certificate or handover: a cut-off end shows only against it. "
        "May be given again",
    )
