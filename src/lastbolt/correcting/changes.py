"""What each correction makes of its fact: pure functions from the thing as read to the thing as it is."""

from msgspec.structs import replace

from lastbolt.words.citation import Citation, SaidPlace
from lastbolt.words.corrections import (
    Confirmed,
    CountReads,
    LeadsTo,
    LimitReads,
    RowReads,
    Stated,
    TorqueReads,
)
from lastbolt.words.machine import PartsRow, Reference, ReferenceStatus, TorqueValue
from lastbolt.words.measured import Limit
from lastbolt.words.quantity import Kind, Quantity, QuantityKind


def witness(stated: Stated) -> Citation:
    """The person as one more witness of the fact."""
    day = stated.at.partition("T")[0]
    return Citation("", SaidPlace(stated.by, day), stated.reason, f"put right by {stated.by}")


def confirmed_by(stated: Stated) -> Citation:
    """The person who looked and found it right."""
    return replace(witness(stated), title=f"confirmed by {stated.by}")


def reference_of(reference: Reference, stated: Confirmed | LeadsTo) -> Reference:
    """The reference resolved: as confirmed, or to where a person says that it leads."""
    if isinstance(stated, Confirmed):
        status: ReferenceStatus = (
            "resolved" if reference.status == "doubtful" and reference.to else reference.status
        )
        cited = (*reference.citations, confirmed_by(stated))
        return replace(reference, status=status, citations=cited)
    role = reference.role
    if stated.first is not None and role in ("before", "see"):
        role = "before" if stated.first else "see"
    same = reference.to == stated.to
    return replace(
        reference,
        status="resolved",
        to=stated.to,
        any_of=stated.any_of,
        role=role,
        from_step=reference.from_step if same else None,
        to_step=reference.to_step if same else None,
        citations=(*reference.citations, witness(stated)),
    )


def torque_of(value: TorqueValue, stated: TorqueReads, factor: float | None) -> TorqueValue:
    """The torque as a person reads it.

    Args:
        value: as read
        stated: what the person says
        factor: its unit in newton metres, None for a unit that is not known
    """
    newton_metres = (
        None if factor is None else (round(stated.low * factor, 4), round(stated.high * factor, 4))
    )
    return replace(
        value,
        torque_Nm=newton_metres,
        printed=((stated.low, stated.high, stated.unit),),
        angle_deg=stated.angle_deg,
        limit=stated.limit,
        citations=(*value.citations, witness(stated)),
    )


def limit_of(limit: Limit, stated: LimitReads) -> Limit:
    """The limit as a person reads it."""
    return replace(
        limit,
        standard=stated.standard or limit.standard,
        printed_standard=(stated.standard,) if stated.standard else limit.printed_standard,
        limit=stated.limit or limit.limit,
        printed_limit=(stated.limit,) if stated.limit else limit.printed_limit,
        sense=limit.sense if stated.sense is None else stated.sense,
        doubt="",
        citations=(*limit.citations, witness(stated)),
    )


def quantity_of(quantity: Quantity, stated: CountReads | RowReads) -> Quantity:
    """The count as a person reads it."""
    if stated.low is None or stated.high is None:
        return quantity
    kind: QuantityKind = "exactly" if stated.low == stated.high else "range"
    return Quantity(kind, stated.low, stated.high, quantity.per, quantity.words)


def row_of(row: PartsRow, stated: RowReads) -> PartsRow:
    """The row of the parts list as a person reads it."""
    return replace(
        row,
        name=row.name if stated.name is None else stated.name,
        part_number=row.part_number if stated.part_number is None else stated.part_number,
        quantity=quantity_of(row.quantity, stated),
        kind=_kind_of(row.kind, stated),
        unknown=row.unknown and stated.what is None,
        doubt="",
        citations=(*row.citations, witness(stated)),
    )


def _kind_of(kind: Kind | None, stated: RowReads) -> Kind | None:
    if stated.what == "":
        return None
    if stated.what is None and stated.thread is None and stated.length_mm is None:
        return kind
    old = kind or Kind()
    return replace(
        old,
        what=stated.what or old.what,
        thread=old.thread if stated.thread is None else stated.thread or None,
        length_mm=old.length_mm if stated.length_mm is None else stated.length_mm,
    )
