"""What must hold of a command that was given a damaged file, whatever the damage.

The bounds are those of issue and documents: an exit code of 0, 1 or 2 and no fault of the program; an end in
time and within memory; a problem with its code that names the file; an earlier file never half written.
"""

import hashlib
import json
import random
import re
import shutil
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

import jsonschema

from failure.damaged.cases import OUT, Case, Kind
from failure.damaged.court import Court, Heard

CPU_S = 20.0
"""Processor seconds for one small file; a worker may use 2 s a page and 8 s to open (hearing.py)."""
MEMORY_MB = 900.0
"""Of all processes together: the command's own, and a worker's 400."""
SCHEMAS = Path(__file__).parents[3] / "docs" / "schemas"
CODE = re.compile(r"LB-[A-Z]\d\d")
VALIDATED_CHARS = 1_000_000
"""A model of more is not held against its schema: that would take longer than reading it."""
EARLIER = "out/model.json"
NOT_OURS = "notes of mine\n"
GOOD = (
    "figure,item,part_number,description,qty\n1,1,Z-1,Cover,1\n1,2,Z-2,Screw M8 x 70,2\n1,3,Z-3,Washer 8,2\n"
)
GOOD_NAME = "sound.csv"


class Before(NamedTuple):
    """What stood there before the command, and what is known of sound files."""

    files: dict[str, str]
    earlier: str
    """"none", "sound", or "not ours"."""


class Bench:
    """One court, and what it found out about sound files."""

    def __init__(self, folder: Path, *, own_limits: bool = False) -> None:
        self.folder = folder
        (folder / "said").mkdir(parents=True)
        self.court = Court(folder / "said", own_limits=own_limits)
        self.slack = 6.0 if own_limits else 1.0
        self.cpu_s = 0.0
        self.codes: Counter[int] = Counter()
        self._whole: dict[str, tuple[int, int]] = {}
        self._sound = b""
        schema = json.loads((SCHEMAS / "model-1.json").read_text("utf-8"))
        self._schema = jsonschema.Draft202012Validator(schema)

    def faults(self, kind: Kind, number: int) -> list[str]:
        """What the program did wrong with this input; nothing when it did right."""
        folder = self.folder / f"{kind.name}-{number}"
        folder.mkdir()
        try:
            rng = random.Random(f"{kind.name} {number}")
            case = kind.make(rng, folder)
            found = self._tried(rng, case, folder)
        finally:
            shutil.rmtree(folder, onerror=_open_up)
        return [f"{kind.name} {number}: {fault}" for fault in found]

    def _tried(self, rng: random.Random, case: Case, folder: Path) -> list[str]:
        before = self._prepared(rng, case, folder)
        as_json = rng.random() < 0.5
        argv = [EARLIER if word == OUT else word for word in case.argv]
        argv += ["--json"] if as_json else []
        beside = case.argv[0] == "read" and rng.random() < 0.25
        if beside:
            (folder / GOOD_NAME).write_text(GOOD, encoding="utf-8")
            before.files[GOOD_NAME] = _mark(folder / GOOD_NAME)
            argv.insert(1, GOOD_NAME)
        heard = self.court.hear(argv, folder)
        self.cpu_s += heard.cpu_s
        self.codes[heard.code] += 1
        found = [*self._manners(case, heard), *_told(case, heard, before, as_json=as_json)]
        found += self._files(case, heard, before, folder)
        if case.argv[0] == "read" and heard.code in {0, 1} and not found:
            found += self._facts(case, heard, folder, beside=beside)
        return found

    def _prepared(self, rng: random.Random, case: Case, folder: Path) -> Before:
        (folder / "out").mkdir()
        earlier = rng.choice(("none", "sound", "sound", "not ours")) if case.writes else "none"
        if rng.random() < 0.5 and earlier == "not ours":
            earlier = "none"
        if earlier == "sound":
            (folder / EARLIER).write_bytes(case.earlier or self._sound_model())
        elif earlier == "not ours":
            (folder / EARLIER).write_text(NOT_OURS, encoding="utf-8")
        return Before({_name(path, folder): _mark(path) for path in _walked(folder)}, earlier)

    def _sound_model(self) -> bytes:
        """The model of a sound list: the earlier facts."""
        if not self._sound:
            folder = self.folder / "sound"
            folder.mkdir()
            (folder / GOOD_NAME).write_text(GOOD, encoding="utf-8")
            heard = self.court.hear(["read", GOOD_NAME, "--out", "m.json"], folder)
            assert heard.code in {0, 1}, heard
            self._sound = (folder / "m.json").read_bytes()
        return self._sound

    def _manners(self, case: Case, heard: Heard) -> list[str]:
        found = []
        if heard.ended:
            found.append(f"no exit code: {heard.ended}")
        elif heard.code not in {0, 1, 2}:
            found.append(f"exit {heard.code}")
        said = heard.out + heard.err
        if "Traceback (most recent call last)" in said or "LB-D14" in said:
            last = [line for line in said.splitlines() if re.match(r"[\w.]+: ", line)]
            found.append(f"a fault of the program: {last[:2]}")
        if heard.cpu_s > (case.cpu_s or CPU_S) * self.slack:
            found.append(f"took {heard.cpu_s:.1f} processor seconds, {heard.wall_s:.1f} s in all")
        if heard.memory_MB > (case.memory_MB or MEMORY_MB) * (2 if self.slack > 1 else 1):
            found.append(f"took {heard.memory_MB:.0f} MB")
        if case.wants == "refused" and heard.code != 2:
            found.append(f"exit {heard.code}, and it should be refused")
        if case.wants == "told" and heard.code == 0:
            found.append("exit 0: nothing is said of the damage")
        if case.wants == "read" and heard.code == 2:
            found.append(f"refused, and it could be read: {_short(said)}")
        if case.never_clear and heard.code == 0:
            found.append("exit 0: the joint is called clear to part")
        return found

    def _files(self, case: Case, heard: Heard, before: Before, folder: Path) -> list[str]:
        after = {_name(path, folder): _mark(path) for path in _walked(folder)}
        found = [
            f"{name} was changed"
            for name, mark in before.files.items()
            if name != EARLIER and after.get(name) != mark
        ]
        more = set(after) - set(before.files) - {EARLIER, f"{EARLIER}.bak"}
        found += [f"{name} was left there" for name in sorted(more)]
        if heard.code == 2 or before.earlier == "not ours":
            if after.get(EARLIER) != before.files.get(EARLIER):
                found.append("the command failed and the file to write was touched")
        elif case.writes and heard.code in {0, 1} and not _is_document(folder / EARLIER):
            found.append("exit 0 or 1, and no whole document was written")
        if f"{EARLIER}.bak" in after and after[f"{EARLIER}.bak"] != before.files.get(EARLIER):
            found.append("what was kept beside it is not what stood there")
        return found

    def _facts(self, case: Case, heard: Heard, folder: Path, *, beside: bool) -> list[str]:
        text = (folder / EARLIER).read_text("utf-8")
        model, found = json.loads(text), []
        if len(text) < VALIDATED_CHARS:
            wrong = list(self._schema.iter_errors(model))[:2]
            found = [f"not by the schema: {error.message[:200]}" for error in wrong]
        if beside:
            mine = [row for row in model.get("rows", ()) if row["id"].startswith("sound/")]
            sound = json.loads(self._sound_model()).get("rows", ())
            if [_row(row) for row in mine] != [_row(row) for row in sound]:
                found.append("the rows of the sound list beside it are not what they were")
        if case.whole:
            steps, rows = _counted(model, without="sound/")
            most = self._of_whole(case.whole, folder)
            named = [
                p for p in model.get("problems", ()) if p.get("grade") != "note" and _names(case, str(p))
            ]
            if (steps < most[0] or rows < most[1]) and (heard.code == 0 or not named):
                found.append(
                    f"{steps} steps and {rows} rows of {most[0]} and {most[1]}, exit {heard.code}, "
                    f"problems {[p['code'] for p in model.get('problems', ())]}"
                )
        return found

    def _of_whole(self, name: str, folder: Path) -> tuple[int, int]:
        """Steps and rows of the whole file."""
        mark = _mark(folder / name)
        if mark not in self._whole:
            heard = self.court.hear(["read", name, "--out", "out/whole.json"], folder)
            assert heard.code in {0, 1}, heard
            model = json.loads((folder / "out" / "whole.json").read_text("utf-8"))
            self._whole[mark] = _counted(model)
        return self._whole[mark]


def _told(case: Case, heard: Heard, before: Before, *, as_json: bool) -> list[str]:
    """A refusal names the file, with a code, what is wrong and what to do."""
    if heard.code != 2:
        return []
    if before.earlier == "not ours" and EARLIER.rpartition("/")[2] in heard.out + heard.err:
        return []  # it was refused for the sake of the file to write
    if as_json:
        try:
            problems = json.loads(heard.out)["problems"]
        except (ValueError, KeyError, TypeError):
            return [f"exit 2 and no problems as JSON: {_short(heard.out + heard.err)}"]
        bare = [
            p for p in problems if not (CODE.fullmatch(p["code"]) and p["what"] and p["where"] and p["do"])
        ]
        if bare or not problems:
            return [f"exit 2 and a problem without its parts: {bare}"]
        return (
            []
            if any(_names(case, p["where"]) for p in problems)
            else [f"no problem names the file: {problems}"]
        )
    if not CODE.search(heard.err):
        return [f"exit 2 without a code: {_short(heard.out + heard.err)}"]
    return [] if _names(case, heard.err) else [f"nothing names the file: {_short(heard.err)}"]


def _names(case: Case, text: str) -> bool:
    """Whether one of the case's files is named; lines may be wrapped anywhere."""
    bare = re.sub(r"\s+", "", text)
    return any(re.sub(r"\s+", "", name) in bare for name in case.damaged)


def _short(text: str) -> str:
    return repr(text[-600:])


def _counted(model: dict[str, Any], without: str = "\0") -> tuple[int, int]:
    steps = sum(
        len(one.get("steps", ())) for one in model.get("procedures", ()) if not one["id"].startswith(without)
    )  # fmt: skip
    return steps, sum(not row["id"].startswith(without) for row in model.get("rows", ()))


def _row(row: dict[str, Any]) -> tuple[Any, ...]:
    return tuple(
        json.dumps(row.get(key), sort_keys=True)
        for key in ("id", "item", "part_number", "name", "quantity", "kind")
    )


def _is_document(path: Path) -> bool:
    try:
        return str(json.loads(path.read_text("utf-8"))["schema"]).startswith("lastbolt.")
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _walked(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())


def _name(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix()


def _mark(path: Path) -> str:
    """A file's bytes; of a large one, what the system says of it."""
    facts = path.stat()
    if facts.st_size > 4 * 2**20:
        return f"{facts.st_size} {facts.st_mtime_ns}"
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return "cannot be read"


def _open_up(remove: Any, path: str, _: object) -> None:
    """Remove what the test itself made unreadable."""
    Path(path).chmod(0o700)
    remove(path)
