"""`shearpin rename`: another id for a record, everywhere at once."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.authoring.change import recover
from shearpin.authoring.editor import refresh_schemas
from shearpin.authoring.files import WriteRefused
from shearpin.authoring.ids import IdRefused
from shearpin.authoring.rename import Plan, carry_out, findings_of, plan_renaming
from shearpin.cli.check import as_json
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json, records_folder
from shearpin.model.finding import Finding


def run(words: Sequence[str]) -> int:
    """Rename; 1 when it cannot be done or the book would have new findings, and then nothing has changed."""
    parser = new_parser(
        "rename", "Give a record another id: in records, texts, pages and drawings, all or nothing."
    )
    parser.add_argument("record", metavar="KIND/OLD", help="the record, such as cause/auger-belt-broken")
    parser.add_argument("new", metavar="NEW", help="its new id")
    parser.add_argument("--dry-run", action="store_true", help="say what would change, and change nothing")
    options = parser.parse_args(list(words))
    kind, slash, old = options.record.partition("/")
    if not slash or not old:
        raise UserError(f"`{options.record}` is not KIND/OLD, such as cause/auger-belt-broken")
    try:
        put_back = recover(records_folder(options.kb)[0])
        linked = load_book_or_fail(options.kb)
        plan = plan_renaming(linked, kind, old.removesuffix(".yaml"), options.new)
        findings = findings_of(linked, plan)
        if not findings and not options.dry_run:
            carry_out(linked, plan)
            refresh_schemas(load_book_or_fail(options.kb).book)
    except IdRefused as error:
        raise UserError(str(error)) from error
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    _tell(plan, findings, put_back, options.json, written=not findings and not options.dry_run)
    return 1 if findings else 0


def _tell(
    plan: Plan, findings: Sequence[Finding], put_back: Sequence[str], json: bool, *, written: bool
) -> None:
    total = sum(count for _, count in plan.mentions)
    if json:
        print_json(
            {
                "kind": plan.renaming.kind,
                "old": plan.renaming.old,
                "new": plan.renaming.new,
                "written": written,
                "mentions": [{"path": path, "count": count} for path, count in plan.mentions],
                "findings": [as_json(finding) for finding in findings],
                "put_back": list(put_back),
            }
        )
        return
    if put_back:
        print(f"A change that was interrupted has been undone first: {', '.join(put_back)}")
    for path, count in plan.mentions:
        print(f"  {path}: {count}")
    for finding in findings:
        print(f"{finding}\n    help: {finding.help}")
    if findings:
        print("Nothing was renamed: the book would have these findings afterwards.")
        return
    verb = "is now called" if written else "would be called"
    mentions = (
        f"{total} mention{'s' * (total != 1)} in {len(plan.mentions)} file{'s' * (len(plan.mentions) != 1)}"
    )
    print(f"{plan.renaming.kind} `{plan.renaming.old}` {verb} `{plan.renaming.new}`; {mentions}.")
    print("Its old address leads to the new one." if written else "Nothing was changed.")
