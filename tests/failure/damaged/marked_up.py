"""Damaged XML: S1000D and DITA modules alone, in folders and in archives (XML 1.0, 4.2 entities; APPNOTE for
ZIP).

The modules themselves are invented; names of elements after S1000D 4.1 (from memory) and OASIS DITA 1.3.
"""

import random
import zipfile
from pathlib import Path

from failure.damaged.cases import Case, Kind, cut, flipped, mangled, reading
from failure.damaged.workbooks import repacked, unpacked

CODE = (
    'modelIdentCode="WN" systemDiffCode="A" systemCode="{0}" subSystemCode="0" subSubSystemCode="0" '
    'assyCode="00" '
    'disassyCode="00" disassyCodeVariant="A" infoCode="520" infoCodeVariant="A" itemLocationCode="D"'
)


def module(system: str, title: str, steps: tuple[str, ...], condition: str = "<noConds/>") -> str:
    """A procedural module."""
    work = "".join(f"<proceduralStep><para>{step}</para></proceduralStep>" for step in steps)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<dmodule><identAndStatusSection><dmAddress><dmIdent>'
        f'<dmCode {CODE.format(system)}/><language languageIsoCode="en" countryIsoCode="GB"/>'
        '<issueInfo issueNumber="001" inWork="00"/></dmIdent><dmAddressItems><dmTitle>'
        f"<techName>{title}</techName><infoName>Remove procedure</infoName></dmTitle></dmAddressItems>"
        f"</dmAddress>"
        f"</identAndStatusSection><content><procedure><preliminaryRqmts><reqCondGroup>"
        f"{condition}</reqCondGroup>"
        f"</preliminaryRqmts><mainProcedure>{work}</mainProcedure><closeRqmts><reqCondGroup><noConds/>"
        f"</reqCondGroup>"
        "</closeRqmts></procedure></content></dmodule>\n"
    )


def condition(system: str) -> str:
    """A condition that another module brings about."""
    return (
        f"<reqCondDm><reqCond>Guard off</reqCond><dmRef><dmRefIdent><dmCode {CODE.format(system)}/>"
        f"</dmRefIdent></dmRef></reqCondDm>"
    )


GUARD = module("71", "Guard", ("Remove the 2 screws M6 x 16.", "Lift off the guard."))
CASE = module("72", "Case", ("Remove the 5 screws M6 x 25.", "Part the case."), condition("71"))
TASK = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE task PUBLIC "-//OASIS//DTD DITA 1.3 Task//EN" '
    '"task.dtd">\n'
    '<task id="drain"><title>Draining the oil</title><taskbody><prereq>Guard off: <xref '
    'href="guard.dita"/></prereq>'
    "<steps><step><cmd>Unscrew the plug M14 x 1.5.</cmd></step><step><cmd>Let the oil run out.</cmd>"
    "</step></steps>"
    "</taskbody></task>\n"
)
WHOLE = {"DMC-71.xml": GUARD.encode(), "DMC-72.xml": CASE.encode(), "drain.dita": TASK.encode()}
ONE = {"module.xml": CASE.encode(), "task.dita": TASK.encode()}
ZIP, FOLDER = "modules.zip", "modules"


def put(folder: Path, content: bytes, name: str = "module.xml", **wants: str) -> Case:
    """The case of one damaged file."""
    (folder / name).write_bytes(content)
    return reading(name, **wants)  # type: ignore[arg-type]


def among(rng: random.Random, folder: Path, content: bytes, **wants: str) -> Case:
    """The damaged file alone, or among whole ones in a folder or an archive."""
    name = rng.choice(tuple(ONE))
    place = rng.randrange(3)
    if place == 0:
        return put(folder, content, name, **wants)
    every = {**WHOLE, f"harmed-{name}": content}
    told = "told" if wants.get("wants") == "refused" else wants.get("wants", "")
    if place == 1:
        (folder / ZIP).write_bytes(repacked(every))
        return Case(("read", ZIP, "--out", "{out}"), (ZIP, f"harmed-{name}"), wants=told)
    (folder / FOLDER).mkdir()
    for each, text in every.items():
        (folder / FOLDER / each).write_bytes(text)
    return Case(("read", FOLDER, "--out", "{out}"), (f"harmed-{name}",), wants=told)


def cut_off(rng: random.Random, folder: Path) -> Case:
    """Cut anywhere: never well-formed (XML 1.0, 2.1)."""
    return among(rng, folder, cut(rng, rng.choice(tuple(ONE.values())).rstrip()), wants="refused")


def bits(rng: random.Random, folder: Path) -> Case:
    return among(rng, folder, flipped(rng, rng.choice(tuple(ONE.values()))))


def pieces(rng: random.Random, folder: Path) -> Case:
    return among(rng, folder, mangled(rng, rng.choice(tuple(ONE.values()))))


def entities(rng: random.Random, folder: Path) -> Case:
    """Texts that grow without end, or are to be fetched from a file or an address."""
    laughs = "".join(f'<!ENTITY a{n + 1} "{f"&a{n};" * 10}">' for n in range(rng.choice((3, 9, 30))))
    inner, used = rng.choice((
        (f'<!ENTITY a0 "ha">{laughs}', "&a3;"), (f'<!ENTITY a0 "{"x" * 50_000}">', "&a0;" * 5000),
        ('<!ENTITY a0 SYSTEM "file:///etc/passwd">', "&a0;"), ('<!ENTITY a0 SYSTEM "http://127.0.0.1:9/x">',
        "&a0;"),
        ('<!ENTITY % a0 SYSTEM "file:///etc/passwd"> %a0;', ""), ('<!ENTITY a0 "&a0;">', "&a0;"),
        ('<!ENTITY a0 "&a1;"><!ENTITY a1 "&a0;">', "&a1;"), ('<!ENTITY a0 "<proceduralStep/>">', "&a0;"),
        ('<!ENTITY % p "<!ENTITY a0 \'x\'>"> %p;', "&a0;"),
    ))  # fmt: skip
    text = CASE.replace("<dmodule>", f"<!DOCTYPE dmodule [{inner}]>\n<dmodule>").replace(
        "Part the", f"{used} Part the"
    )
    wants = "" if "%a0;" in inner else "refused"
    return among(rng, folder, text.encode(), wants=wants)


def deep(rng: random.Random, folder: Path) -> Case:
    """Elements within elements, steps within steps, by the thousand."""
    name, depth = (
        rng.choice(("para", "proceduralStep", "x", "step", "ul")),
        rng.choice((119, 121, 1000, 100_000)),
    )
    middle = f"<{name}>" * depth + "Remove it." + f"</{name}>" * rng.choice((depth, 0))
    return among(rng, folder, CASE.replace("Part the case.", middle).encode())


def encodings(rng: random.Random, folder: Path) -> Case:
    """The declared encoding is not the file's, or nobody's."""
    said = rng.choice(
        ("UTF-16", "x-none", "EBCDIC-CP-US", "", "utf-8; x", "UTF-32", "US-ASCII", "Shift_JIS", "ISO-8859-1")
    )
    text = CASE.replace('encoding="UTF-8"', f'encoding="{said}"').replace("the case", "the casé ü € ½")
    really = rng.choice(("utf-8", "utf-16", "utf-16-le", "utf-32", "cp1252", "utf-8-sig", "cp500"))
    return among(rng, folder, text.encode(really, "replace"))


def too_much(rng: random.Random, folder: Path) -> Case:
    """Attributes, elements or words without measure."""
    chosen = rng.randrange(5)
    if chosen == 0:
        text = CASE.replace("<para>", f'<para id="{"x" * rng.choice((90_000, 200_000, 30_000_000))}">', 1)
    elif chosen == 1:
        text = CASE.replace("<para>", "<para " + " ".join(f'a{n}="1"' for n in range(50_000)) + ">", 1)
    elif chosen == 2:
        text = CASE.replace("Part the case.", "<emphasis/>" * rng.choice((100_000, 500_000)))
    elif chosen == 3:
        text = CASE.replace("Part the case.", "Remove it. " * (rng.choice((2, 100)) * 10**6 // 11))
    else:
        step = "<proceduralStep><para>Remove the 2 screws M6 x 16.</para></proceduralStep>"
        text = CASE.replace("</mainProcedure>", step * rng.choice((500, 3000)) + "</mainProcedure>")
    return put(folder, text.encode())


def circles(rng: random.Random, folder: Path) -> Case:
    """References, content references and maps that lead back to themselves."""
    loop = '<topicref href="a.ditamap" format="ditamap"/>'
    texts = rng.choice((
        {"a.xml": CASE.replace('systemCode="71"', 'systemCode="72"')},
        {"a.xml": CASE, "b.xml": module("71", "Guard", ("Remove it.",), condition("72"))},
        {"a.ditamap": f"<map>{loop}<topicref href='d.dita'/></map>", "d.dita": TASK},
        {"d.dita": TASK.replace("<steps>", '<steps conref="d.dita#drain/s" id="s">')},
        {"d.dita": TASK.replace("<step><cmd>", '<step id="s" conref="e.dita#drain/s"><cmd>', 1),
         "e.dita": TASK.replace("<step><cmd>", '<step id="s" conref="d.dita#drain/s"><cmd>', 1)},
        {"d.dita": TASK.replace("guard.dita", "d.dita#drain")},
        {"a.ditamap": "<map>" + "".join((f'<keydef keys="k{n}" '
            f'keyref="k{(n + 1) % 9}"/>') for n in range(9)) + "<topicref href='d.dita'/></map>",
         "d.dita": TASK.replace('<xref href="guard.dita"/>', '<xref keyref="k0"/>')},
    ))  # fmt: skip
    (folder / FOLDER).mkdir()
    for name, text in texts.items():
        (folder / FOLDER / name).write_text(text, encoding="utf-8")
    return Case(("read", FOLDER, "--out", "{out}"), (FOLDER,))


def not_ours(rng: random.Random, folder: Path) -> Case:
    """XML of some other kind, or none."""
    text = rng.choice((
        b"", b"<a/>", b"<html><body/></html>", b"<?xml version='1.0'?>", b"<svg xmlns='x'/>", b"<dmodule",
        b"\0" * 100,
        b"<!DOCTYPE x>", b"<!-- -->", b"{}", b"<a/><b/>", b"<task:task/>", b"\xff\xfe<\0a\0/\0>\0",
        b"PK\x03\x04",
    ))  # fmt: skip
    wants = "told" if text == b"<task:task/>" else "refused"
    return put(folder, text, rng.choice(("module.xml", "task.dita", "all.ditamap")), wants=wants)


def zip_cut(rng: random.Random, folder: Path) -> Case:
    (folder / ZIP).write_bytes(cut(rng, repacked(WHOLE)))
    return reading(ZIP, wants="refused")


def zip_bits(rng: random.Random, folder: Path) -> Case:
    """Bits and pieces: what is packed carries a checksum, so a lost module can be told."""
    whole = repacked(WHOLE, rng.choice((zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED)))
    (folder / ZIP).write_bytes(rng.choice((flipped, mangled))(rng, whole))
    (folder / "whole").mkdir()
    (folder / "whole" / ZIP).write_bytes(whole)
    return reading(ZIP, whole=f"whole/{ZIP}")


def zip_names(rng: random.Random, folder: Path) -> Case:
    """Names that lead out of the archive, twice the same name, names of other systems."""
    name = rng.choice(
        (
            "../../evil.xml",
            "/etc/evil.xml",
            "..\\evil.xml",
            "a/../../e.dita",
            "C:\\e.xml",
            "C:e.xml",
            "../x.txt",
            "a/b/../../../e.xml",
        )
    )
    (folder / ZIP).write_bytes(repacked({**WHOLE, name: GUARD.encode()}))
    return reading(ZIP, wants="refused")


def zip_odd_names(rng: random.Random, folder: Path) -> Case:
    """Names that lead nowhere bad and are odd all the same."""
    name = rng.choice(
        (
            "a" * 5000 + ".xml",
            "\u202elmx.exe.xml",
            "a\nb.xml",
            ".hidden.xml",
            "con.xml",
            " .xml",
            "a//b.xml",
            "./c.xml",
            "ä.xml",
            "dir/",
        )
    )
    (folder / ZIP).write_bytes(repacked({**WHOLE, name: GUARD.encode()}))
    return reading(ZIP)


def zip_bomb(rng: random.Random, folder: Path) -> Case:
    """Members that unpack to far more than any module, one large one or many."""
    chosen = rng.randrange(4)
    if chosen == 0:
        every = {"a.xml": b"<dmodule>" + b" " * rng.choice((65, 300)) * 2**20 + b"</dmodule>"}
    elif chosen == 1:
        every = {f"{n}.xml": b"<dmodule>" + b" " * 20 * 2**20 + b"</dmodule>" for n in range(30)}
    elif chosen == 2:
        every = {f"{n}.xml": b"<a/>" for n in range(20_001)}
    else:
        inner = repacked({"b.zip": repacked({"c.xml": b" " * 30 * 2**20})})
        every = {"a.zip": inner, "note.txt": b"nothing"}
    (folder / ZIP).write_bytes(repacked(every))
    return reading(ZIP, wants="refused")


def zip_locked(rng: random.Random, folder: Path) -> Case:
    """Members that say they are locked, or packed in a way nobody knows (APPNOTE 4.4.4, 4.4.5)."""
    raw = bytearray(repacked(WHOLE))
    flag, value = rng.choice(((8, 1), (10, 99), (10, 14), (10, 6), (8, 65)))
    at = raw.find(b"PK\x01\x02")
    while at >= 0:
        raw[at + flag] = value
        at = raw.find(b"PK\x01\x02", at + 4)
    (folder / ZIP).write_bytes(bytes(raw))
    return reading(ZIP, wants="refused")


def folder_odd(rng: random.Random, folder: Path) -> Case:
    """Links that lead out or round, files that are none, files nobody may read."""
    inside = folder / FOLDER
    inside.mkdir()
    for name, text in WHOLE.items():
        (inside / name).write_bytes(text)
    chosen = rng.randrange(4)
    if chosen == 0:
        (inside / "out.xml").symlink_to("/etc/passwd")
    elif chosen == 1:
        (inside / "round").symlink_to(".", target_is_directory=True)
    elif chosen == 2:
        (inside / "folder.xml").mkdir()
    else:
        (inside / "nowhere.xml").symlink_to("gone.xml")
    return Case(("read", FOLDER, "--out", "{out}"), (FOLDER,))


assert set(unpacked(repacked(WHOLE))) == set(WHOLE)
KINDS = (
    Kind("xml_cut_off", cut_off), Kind("xml_bits", bits), Kind("xml_pieces", pieces), Kind("xml_entities",
    entities),
    Kind("xml_deep", deep), Kind("xml_encodings", encodings), Kind("xml_too_much", too_much, True),
    Kind("xml_circles", circles), Kind("xml_not_ours", not_ours), Kind("zip_cut_off", zip_cut),
    Kind("zip_bits", zip_bits),
    Kind("zip_names", zip_names), Kind("zip_odd_names", zip_odd_names), Kind("zip_bomb", zip_bomb, True),
    Kind("zip_locked", zip_locked), Kind("folder_odd", folder_odd),
)  # fmt: skip
