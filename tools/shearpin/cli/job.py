"""`shearpin job`: several procedures on one machine as one list, with the estimate at the shop's own rate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, known_machine, load_book_or_fail, new_parser, print_json, todays_id
from shearpin.diagnosis.job import MAX_PROCEDURES, Job, JobPart, labour, make_job, money, read_rate


def run(words: Sequence[str]) -> int:
    """Print the job; returns 1 when none of its procedures is for the machine."""
    parser = new_parser("job", "One list for several procedures: cautions, tools, parts by plate, minutes.")
    parser.add_argument(
        "procedures", metavar="PROCEDURE", nargs="*", help="ids of procedures, in their order"
    )
    parser.add_argument("--machine", metavar="ID", required=True, help="id of the machine on the bench")
    parser.add_argument(
        "--cause", metavar="ID", help="a proven cause: the quickest procedure that cures it comes first"
    )
    parser.add_argument(
        "--rate", metavar="AMOUNT", help="what an hour's work costs in your shop; it is not kept"
    )
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    machine = known_machine(linked, options.machine)
    assert machine is not None
    procedures = [todays_id(linked, "procedure", given) for given in options.procedures]
    others: tuple[str, ...] = ()
    if options.cause is not None:
        first, *rest = _cures(linked, todays_id(linked, "cause", options.cause), machine)
        procedures.insert(0, first)
        others = tuple(rest)
    _check(linked, procedures)
    rate = read_rate(options.rate) if options.rate is not None else None
    if options.rate is not None and rate is None:
        raise UserError(f"`{options.rate}` is not an amount; write it like 90 or 87.50")
    job = make_job(linked, procedures, machine)
    if options.json:
        print_json(as_json(job, rate))
    else:
        print("\n".join(_lines(linked, job, rate, others)))
    return 0 if job.work else 1


def _check(linked: LinkedBook, procedures: Sequence[str]) -> None:
    if not procedures:
        raise UserError("name at least one procedure, or a cause with --cause")
    if len(procedures) > MAX_PROCEDURES:
        raise UserError(f"{len(procedures)} procedures; {MAX_PROCEDURES} are the most")
    for procedure in procedures:
        if procedure not in linked.book.procedures:
            advice = did_you_mean(procedure, linked.book.procedures) or "`shearpin find` searches by words"
            raise UserError(f"there is no procedure `{procedure}`; {advice}")


def _cures(linked: LinkedBook, cause: str, machine: str) -> list[str]:
    """Return the procedures that cure a cause on a machine, the quickest first; raises `UserError` for none."""
    if cause not in linked.book.causes:
        advice = did_you_mean(cause, linked.book.causes) or "`shearpin find` searches by words"
        raise UserError(f"there is no cause `{cause}`; {advice}")
    cures = [
        (record.time.si or 0.0, procedure)
        for procedure, record in linked.book.procedures.items()
        if cause in record.remedies and linked.applicability.occurs((record.applies_to,), machine)
    ]
    if not cures:
        raise UserError(f"no procedure of this book cures `{cause}` on {machine}", 1)
    return [procedure for _, procedure in sorted(cures)]


def as_json(job: Job, rate: int | None) -> dict[str, object]:
    """Return the job for other programs; the pages compute the same."""
    return {
        "machine": job.machine,
        "work": [
            {
                "procedure": item.procedure,
                "minutes": item.seconds / 60,
                "asked": item.asked,
                "serves": list(item.serves),
                "again": list(item.again),
            }
            for item in job.work
        ],
        "refused": [{"procedure": procedure, "reason": reason} for procedure, reason in job.refused],
        "cautions": list(job.cautions),
        "tools": list(job.tools),
        "parts": {"machine": _parts_json(job.machine_parts), "engine": _parts_json(job.engine_parts)},
        "minutes": job.seconds / 60,
        "minutes_saved": job.seconds_saved / 60,
        "labour": None if rate is None else {"rate": money(rate), "amount": money(labour(job.seconds, rate))},
    }


def _parts_json(parts: Iterable[JobPart]) -> list[dict[str, object]]:
    return [
        {
            "part": part.part,
            "quantity": part.quantity,
            "perhaps": [{"when": item.when, "quantity": item.quantity} for item in part.perhaps],
            "number": part.number,
            "ask_for": part.ask_for,
            "uses": list(part.uses),
        }
        for part in parts
    ]


def _lines(linked: LinkedBook, job: Job, rate: int | None, others: Sequence[str]) -> Iterator[str]:
    book = linked.book
    yield f"Job on the {book.machines[job.machine].title}"
    for procedure, reason in job.refused:
        yield f"\nLeft out: {book.procedures[procedure].title} is not for this machine: {reason}."
    yield "\nSafety first:"
    for caution_id in job.cautions:
        caution = book.cautions[caution_id]
        message = plain_text(
            linked, " ".join((caution.hazard, caution.consequence, *caution.avoidance)), job.machine
        )
        yield f"  {caution.signal_word.value}: {message}"
    yield "\nWork, in this order:"
    for number, item in enumerate(job.work, 1):
        shared = f", once for {len(item.serves)} procedures" if len(item.serves) > 1 else ""
        yield f"  {number}. {book.procedures[item.procedure].title} ({item.seconds / 60:.0f} min{shared})  {item.procedure}"
        if item.again:
            again = ", ".join(book.procedures[name].title.lower() for name in item.again)
            yield f"     Leave its function test to the end, or after it once more: {again}."
    yield "\nTools:"
    for tool in job.tools:
        record = book.tools.get(tool)
        yield f"  {record.title if record is not None else tool}"
    for heading, parts in (("machine", job.machine_parts), ("engine", job.engine_parts)):
        if parts:
            yield f"\nParts, by the number on the {heading} plate:"
            yield from (f"  {_part_words(linked, part)}" for part in parts)
    saved = f"; {job.seconds_saved / 60:.0f} min saved by doing shared work once" if job.seconds_saved else ""
    yield f"\nWorking time: {job.seconds / 60:.0f} min{saved}."
    if rate is not None:
        yield f"Labor at {money(rate)} an hour: {money(labour(job.seconds, rate))}. Parts are not in it."
    if others:
        yield "Other cures of this cause: " + ", ".join(others)


def _part_words(linked: LinkedBook, part: JobPart) -> str:
    record = linked.book.parts.get(part.part)
    title = record.title if record is not None else part.part
    count = f"{part.quantity} × " if part.quantity else ""
    perhaps = "; ".join(f"{item.quantity} {item.when}" for item in part.perhaps)
    if part.ask_for is not None:
        order = f"ask for: {part.ask_for}"
    else:
        order = part.number or "no number recorded; order by the plate"
    extra = f" ({'and ' if part.quantity else ''}perhaps {perhaps})" if perhaps else ""
    return f"{count}{title}: {order}{extra}"
