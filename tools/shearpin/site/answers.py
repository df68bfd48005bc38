"""What pages ask for that is remembered: made known before the first page, so that a later build can tell what of it changed."""

from __future__ import annotations

from shearpin.site import apart, common, fitting, safety, worked
from shearpin.site.bodies import data_sheet, diagnosis, work
from shearpin.site.view import View


def make_known(view: View) -> None:
    """Tell the book of a view how each answer that pages of this view ask for is worked out.

    One that nobody could work out again would count as changed, whatever was edited.
    """
    for known in (
        *common.KNOWN,
        *fitting.KNOWN,
        work.symptoms_of_cause,
        *data_sheet.KNOWN,
        *diagnosis.KNOWN,
        *worked.KNOWN,
        *safety.KNOWN,
    ):
        known(view)
    for of_book in apart.KNOWN:
        of_book(view.linked)
