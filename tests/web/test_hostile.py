"""Who must not reach the correcting page, and what must not come through it."""

import json

import pytest

from lastbolt.edge.web.guard import MOST_BYTES
from web import BOOK, HOST, Asking, read_book

SCRIPT = "<script>alert(1)</script><img src=x onerror=alert(2)>"


@pytest.fixture(scope="module")
def asking(tmp_path_factory: pytest.TempPathFactory) -> Asking:
    title, steps = BOOK[5]
    assert steps is not None
    book = (*BOOK[:5], (title, (*steps, f"3. Remove the {SCRIPT} plate.")))
    return Asking(read_book(tmp_path_factory.mktemp("hostile"), book))


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:4711", "127.0.0.1", "127.0.0.1:80", "", "[::1]:4711"]
)
def test_another_host_is_refused(asking: Asking, host: str) -> None:
    assert asking.get("api/state", host=host).status == 421


@pytest.mark.parametrize("token", ["", "x", "a-token-for-test", "a-token-for-testsx", "..", "%2e%2e"])
def test_without_the_token_there_is_nothing(asking: Asking, token: str) -> None:
    for path in ("", "api/state", "page/winch/1/small", "main.js"):
        assert asking.get(path, token=token).status == 404
    assert asking.post("api/save", {}, token=token).status == 404


@pytest.mark.parametrize(
    ("given", "status"),
    [
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "null"}, 403),
        ({"origin": ""}, 403),
        ({"origin": f"http://{HOST}.evil.example"}, 403),
        ({"sec_fetch_site": "cross-site"}, 403),
        ({"content_type": "text/plain"}, 415),
        ({"content_type": "application/x-www-form-urlencoded"}, 415),
        ({"content_length": ""}, 411),
        ({"content_length": str(MOST_BYTES + 1)}, 413),
    ],
)
def test_another_page_can_change_nothing(asking: Asking, given: dict[str, str], status: int) -> None:
    headers = {name.replace("_", "-"): value for name, value in given.items()}
    assert asking.post("api/save", {}, **headers).status == status


def test_a_body_longer_than_it_says_is_refused(asking: Asking) -> None:
    body = json.dumps({"by": "x" * MOST_BYTES}).encode()
    assert asking.post("api/save", body, **{"content-length": "10"}).status == 413


@pytest.mark.parametrize("body", [b"", b"[1]", b"{", b'"x"', b"[" * 5000, b"\xff\xfe", b"null"])
def test_what_is_no_request_is_told(asking: Asking, body: bytes) -> None:
    answer = asking.post("api/save", body)
    assert answer.status == 400
    assert answer.json()["problem"]["code"] == "LB-K04"


@pytest.mark.parametrize(
    "path",
    [
        "page/winch/0/small", "page/winch/9/small", "page/winch/1/huge", "page/..%2f..%2fetc/1/small",
        "page/../../1/small", "../pyproject.toml", "..%2fguard.py", "static/main.js", "guard.py",
        "page.html%00",
    ],
)  # fmt: skip
def test_no_other_file_can_be_had(asking: Asking, path: str) -> None:
    assert asking.get(path).status == 404


@pytest.mark.parametrize(
    "path",
    [
        "api/list?first=x",
        "api/words?box=1,2",
        "api/words?box=a,b,c,d&page=1",
        "api/lines?line=x",
        "api/words?box=1,2,3,4&page=",
    ],
)
def test_a_question_that_makes_no_sense_is_told(asking: Asking, path: str) -> None:
    assert asking.get(path).status == 400


def test_every_answer_forbids_what_pages_do_not_need(asking: Asking) -> None:
    for path in ("", "main.js", "api/state", "page/winch/1/small", "nothing-here"):
        headers = asking.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "script-src 'self'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"


def test_the_page_has_no_script_of_its_own_and_nothing_from_elsewhere(asking: Asking) -> None:
    page = asking.get("").body.decode()
    assert page.count("<script") == page.count('<script type="module" src="main.js"></script>') == 1
    assert "style=" not in page
    for name in (
        "page.html",
        "look.css",
        "main.js",
        "dom.js",
        "list.js",
        "sheet.js",
        "form.js",
        "fields.js",
        "find.js",
    ):
        text = asking.get(name if name != "page.html" else "").body.decode()
        assert "//" not in text.replace("// ", "").replace("http://www.w3.org/2000/svg", ""), name
        assert "innerHTML" not in text
        assert "eval(" not in text


def test_words_of_a_source_come_as_words(asking: Asking) -> None:
    fact = asking.fact("step", "<script>")
    answer = asking.get("api/list?view=all&count=200")
    assert answer.headers["content-type"] == "application/json"
    assert "<script>alert(1)" in fact["words"]


def test_signs_that_hide_do_not_get_into_the_file(asking: Asking) -> None:
    fact = asking.fact("step", "Lift the drum")
    assert (
        asking.say(fact, does="step reads", words="Lift\u202e the\u0007 drum", by="A\u200bnn").status == 200
    )
    again = asking.fact("step", "Lift the drum")
    assert "\u202e" not in again["said"]
    assert "\u0007" not in again["said"]
    assert again["by"].startswith("Ann,")
