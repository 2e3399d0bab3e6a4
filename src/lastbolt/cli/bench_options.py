"""What the commands about the bench's record take."""

from lastbolt.cli.options import GOAL, MODEL, Commands, add, corrections, walk


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


def add_serve(commands: Commands) -> None:
    """`lastbolt serve`."""
    serve = add(commands, "serve", "the benches of a class in their browsers, each with its own job and code")
    serve.add_argument("goal", metavar="GOAL", help=GOAL)
    serve.add_argument("--model", required=True, metavar="FILE", help=MODEL)
    corrections(serve)
    walk(serve)
    serve.add_argument("--engine", metavar="FILE", help="how this engine differs from its papers (JSON)")
    serve.set_defaults(job=None)
    serve.add_argument(
        "--sources",
        metavar="FOLDER",
        help="where the sources' files lie, for pictures of their pages. If not given: the folder sources "
        "beside the model, or, where there is none, the model's own folder",
    )
    serve.add_argument("--benches", type=int, default=1, metavar="NUMBER", help="how many jobs to open")
    serve.add_argument(
        "--store",
        default="lastbolt.db",
        metavar="FILE",
        help="where all is kept; the jobs in it go on",
    )
    serve.add_argument("--host", default="0.0.0.0", metavar="ADDRESS", help="127.0.0.1: this machine only")
    serve.add_argument("--port", type=int, default=8733, metavar="NUMBER", help="0: any free one")
    serve.add_argument("--cert", default="", metavar="FILE", help="the shop's certificate, for https")
    serve.add_argument("--key", default="", metavar="FILE", help="the key of the certificate")
    serve.add_argument("--print", action="store_true", help="print addresses and codes, and end")
