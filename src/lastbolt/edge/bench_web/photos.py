"""Photos of a job: only those that decode as JPEG, drawn anew so that nothing but the picture is kept.

A photo's name is the SHA-256 of the bytes that were sent, as its event in the record says it; what is kept
is the picture coded again, without place, camera or anything else that was in the file.
"""

import hashlib
import io
import re
import sqlite3
import threading

from PIL import Image

from lastbolt.edge.bench_web.asked import turned
from lastbolt.edge.bench_web.people import Ticket
from lastbolt.edge.store.record_store import RecordStore
from lastbolt.record.rights import may

MOST_OF_A_JOB = 400
MOST_PIXELS = 6_000_000
QUALITY = 85
_NAME = re.compile(r"([0-9a-f]{64})\.jpg\Z")


class Photos:
    """The photos in the store."""

    def __init__(self, store: RecordStore) -> None:
        self._store = store
        self._one_at_a_time = threading.Lock()

    def keep(self, job: str, name: str, body: bytes, ticket: Ticket) -> None:
        """Keep a photo; one that is there already stays as it is.

        Raises:
            Turned: not by this role, not the bytes of that name, no photo, or too many.
        """
        if not may(ticket.role, "photo"):
            what = f"A photo is not for the role {ticket.role}."
            raise turned(403, "LB-E62", what, "Ask the instructor.")
        named = _NAME.match(name)
        if named is None or named[1] != hashlib.sha256(body).hexdigest():
            raise turned(
                400, "LB-E68", "These are not the bytes that the photo is named by.", "Send it anew."
            )
        if self.read(job, name) is not None:
            return
        count = self._store.ask("SELECT count(*) FROM photos WHERE job = ?", (job,))[0][0]
        if count >= MOST_OF_A_JOB:
            what = f"A job keeps {MOST_OF_A_JOB} photos, and no more."
            raise turned(413, "LB-E68", what, "What is on the photo can be said in words.")
        jpeg = self._coded_again(body)

        def work(database: sqlite3.Connection) -> None:
            database.execute(
                "INSERT OR IGNORE INTO photos VALUES (?, ?, ?, ?)", (job, name, ticket.device, jpeg)
            )

        self._store.do(work).result()

    def read(self, job: str, name: str) -> bytes | None:
        """A photo; None where there is none of that name."""
        rows = self._store.ask("SELECT jpeg FROM photos WHERE job = ? AND name = ?", (job, name))
        return bytes(rows[0][0]) if rows else None

    def _coded_again(self, body: bytes) -> bytes:
        made = io.BytesIO()
        try:
            with self._one_at_a_time, Image.open(io.BytesIO(body), formats=("JPEG",)) as photo:
                if photo.width * photo.height > MOST_PIXELS:
                    raise turned(413, "LB-E68", "This photo is too large.", "Take it smaller.")
                plain = Image.new("RGB", photo.size)
                plain.paste(photo.convert("RGB"))
                plain.save(made, "JPEG", quality=QUALITY)
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
            raise turned(400, "LB-E68", "This is no photo.", "Send it as JPEG.") from None
        return made.getvalue()
