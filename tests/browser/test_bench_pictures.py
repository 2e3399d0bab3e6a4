"""The sources' own pictures, and photos: only what is meant to, and nothing of where they were taken."""

import hashlib
import io
import urllib.error
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from bench_phones import Phone, Program, Shop
from PIL import Image

Phones = Callable[..., Phone]
GPS, MAKE = 0x8825, 0x010F
"""Exif tags of where and by whom a photo was taken (CIPA DC-008)."""


def photo(path: Path) -> Path:
    """A large photo that says where it was taken, turned as a phone held upright writes it."""
    exif = Image.Exif()
    exif[0x0112] = 6  # the first row is at the right: to be turned a quarter clockwise
    exif[MAKE] = "maker of the camera"
    exif.get_ifd(GPS).update({1: "N", 2: (52.0, 30.0, 0.0)})
    drawn = Image.effect_noise((1800, 1300), 30).convert("RGB")
    drawn.save(path, "JPEG", exif=exif, quality=95)
    assert b"maker of the camera" in path.read_bytes()
    return path


def taken(phone: Phone, path: Path) -> None:
    with phone.page.expect_file_chooser() as chooser:
        phone.press("Take a photo")
    chooser.value.set_files(path)
    phone.page.locator("#said", has_text="The photo is kept.").wait_for()


def status(shop: Shop, path: str, token: str = "", body: bytes | None = None) -> int:
    try:
        shop.ask(path, body, token)
    except urllib.error.HTTPError as refused:
        return refused.code
    return 200


def test_a_photo_of_a_place_goes_without_its_origin_and_clears_nothing(
    phone: Phones, shop: Shop, tmp_path: Path
) -> None:
    ada = phone().join(shop.code(1), "Ada")
    ada.context.set_offline(True)
    ada.way(1).press("Go round the joint", "Clockwise")
    taken(ada, photo(tmp_path / "photo.jpg"))
    ada.until(lambda: ada.held == "2 only on this device, no network")
    ada.kept("walk-photo")
    ada.context.set_offline(False)
    ada.sent()
    ada.faults[:] = [one for one in ada.faults if "net::ERR" not in one]
    ben = phone().join(shop.code(1), "Ben")
    ben.way(1).press("Photos (1)")
    image = ben.page.locator("main img")
    ben.until(lambda: image.evaluate("(one) => one.naturalWidth") > 0)
    assert image.evaluate("(one) => one.naturalHeight > one.naturalWidth"), "upright"
    ben.kept("photos")
    body = next(one["body"] for one in ben.lines() if one["body"]["event"] == "photo")
    assert body["places"] == ["p1"]
    me = ben.me()
    stored = shop.ask(f"api/jobs/{me['job']}/photos/{body['file']}", token=me["token"])
    assert hashlib.sha256(stored).hexdigest() != body["file"].removesuffix(".jpg"), "coded again"
    with Image.open(io.BytesIO(stored)) as opened:
        assert dict(opened.getexif()) == {}
        assert max(opened.size) <= 1600
    state = {
        one["label"]: one for one in Program.joined(shop, shop.code(1), "look").plan()["tally"]["places"]
    }
    assert not state["1"]["accounted"]


def test_what_is_no_photo_is_refused_and_nothing_changed(phone: Phones, shop: Shop, tmp_path: Path) -> None:
    ada = phone().join(shop.code(2), "Ada")
    ada.way(1)
    (tmp_path / "words.jpg").write_text("<script>window.hit = 1</script>")
    with ada.page.expect_file_chooser() as chooser:
        ada.press("Take a photo")
    chooser.value.set_files(tmp_path / "words.jpg")
    ada.page.locator("#said", has_text="This is no photo.").wait_for()
    assert all(one["body"]["event"] != "photo" for one in ada.lines())
    me, other = ada.me(), Program.joined(shop, shop.code(3), "Ben")
    at = f"api/jobs/{me['job']}/photos/"
    png = io.BytesIO()
    Image.new("RGB", (4, 4)).save(png, "PNG")
    small, large = io.BytesIO(), io.BytesIO()
    Image.new("RGB", (40, 30)).save(small, "JPEG")
    Image.new("RGB", (6_000, 1_500)).save(large, "JPEG")  # few bytes, and more pixels than are taken
    named: Callable[[bytes], str] = lambda body: f"{hashlib.sha256(body).hexdigest()}.jpg"  # noqa: E731
    for body in (b"<svg/>", png.getvalue(), small.getvalue()[:90]):
        assert status(shop, at + named(body), me["token"], body) == 400
    assert status(shop, at + named(large.getvalue()), me["token"], large.getvalue()) == 413
    assert status(shop, at + named(b"other"), me["token"], small.getvalue()) == 400
    assert status(shop, at + "..%2f..%2fwords.jpg", me["token"], small.getvalue()) in (400, 404)
    good = named(small.getvalue())
    assert status(shop, at + good, "", small.getvalue()) == 401
    assert status(shop, at + good, other.token, small.getvalue()) == 403
    assert status(shop, at + good, me["token"]) == 404, "nothing of all that was kept"
    assert status(shop, at + good, me["token"], small.getvalue()) == 200
    assert status(shop, at + good, me["token"]) == 200


def test_only_what_the_plan_cites_is_drawn_and_only_for_its_bench(shop: Shop) -> None:
    ada, ben = (Program.joined(shop, shop.code(bench), name) for bench, name in ((4, "Ada"), (5, "Ben")))
    shown: dict[str, list[dict[str, Any]]] = ada.plan()["pictures"]
    titles = [one["title"] for one in shown["manual/step/5.1/4"]]
    assert titles == ["5-1 Irrigation pump and coupling guard", "Manual, 5-1"]
    key = shown["manual/step/5.1/4"][0]["key"]
    at = f"api/jobs/{ada.job}/pictures/"
    with Image.open(io.BytesIO(shop.ask(at + key, token=ada.token))) as opened:
        assert opened.format == "PNG"
        assert min(opened.size) > 100
        assert opened.convert("L").getextrema() == (0, 255) or opened.convert("L").getextrema()[0] < 60
    assert status(shop, at + key) == 401
    assert status(shop, at + key, ben.token) == 403
    assert status(shop, at + "0" * 24, ada.token) == 404


@pytest.fixture(autouse=True)
def _needs_a_browser(chromium: Any) -> None:
    """The file is skipped as one."""
