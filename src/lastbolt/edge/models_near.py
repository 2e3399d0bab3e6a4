"""Model files that lie in a folder, by the machine that each is of; only their first lines are read."""

import json
import re
from pathlib import Path

ENDING = ".model.json"
MOST_FILES = 200
_HEAD = 4096
_NAME = re.compile(r'^\s*\{\s*"schema"\s*:\s*"lastbolt\.model/\d+"\s*,\s*"name"\s*:\s*("(?:[^"\\]|\\.)*")')


def models_near(folder: Path) -> dict[Path, str]:
    """Each model file of the folder with the name of its machine; files that cannot be read are left out."""
    found = {}
    for path in sorted(folder.glob(f"*{ENDING}"))[:MOST_FILES]:
        name = _name_in(path)
        if name:
            found[path] = name
    return found


def _name_in(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            head = stream.read(_HEAD).decode("utf-8", "replace")
    except OSError:
        return ""
    match = _NAME.match(head)
    try:
        return str(json.loads(match[1])) if match else ""
    except ValueError:
        return ""
