"""Two people at one form: what somebody else stored since it was drawn is not painted over unseen.

The form carries as ``base`` the state it was drawn from (``job_state.packed``). What only one of
the two changed is stored from either. Where both changed the same, nothing is: whoever saves second
is shown both, with what they typed in the form, and ticks what they take from the other.
"""

from __future__ import annotations

from typing import Any

from flask import request
from sqlalchemy import Connection, Table, select

from webapp.shop import job_state

Json = dict[str, Any]
TAKEN = "theirs"  # the ticks, each with the key of what is taken as it is stored


class Clash(Exception):
    """Both changed the same; ``both`` is what the form then shows, ``base`` what it goes by."""

    def __init__(self, base: Json, theirs: Json, mine: Json, form: Any) -> None:
        super().__init__()
        self.theirs, self.mine = theirs, mine
        self.both = job_state.merged(base, theirs, mine)
        self.base = job_state.packed(theirs)
        self.told = job_state.told(base, theirs, mine, form)


def held(connection: Connection, table: Table, row_id: int) -> Json:
    """The row as it is now, held until the transaction ends, so that of two saves one is second."""
    here = select(table).where(table.c.id == row_id).with_for_update()
    return dict(connection.execute(here).mappings().one())


def settled(theirs: Json, mine: Json, form: Any = ()) -> Json:
    """What to store of ``mine``, which somebody typed, now that ``theirs`` is stored.

    ``form`` has the labels of its fields. Raises ``Clash``.
    """
    if "base" not in request.form:
        return mine
    base = job_state.unpacked(request.form["base"])
    mine = job_state.taken(mine, base, request.form.getlist(TAKEN))
    if any(line["clash"] for line in job_state.told(base, theirs, mine, form)):
        raise Clash(base, theirs, mine, form)
    return job_state.merged(base, theirs, mine)


def shown(clash: Clash | None, deeds: list[Json], state: Json) -> Json:
    """What goes into a page: ``base``, of the form or of the stored ``state``, and the clash.

    ``deeds`` are those to what was changed, the last first.
    """
    if clash is None:
        return {"base": request.form.get("base") or job_state.packed(state), "meanwhile": None}
    told = {"lines": clash.told, "done": deeds[0] if deeds else None, "choose": True}
    return {"base": clash.base, "meanwhile": told}
