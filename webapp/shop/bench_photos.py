"""Photos from the bench: put in at a job, shown with it, with its trailer and on its record."""

from __future__ import annotations

from contextlib import closing
from hashlib import sha256
from typing import Any
from uuid import UUID

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, select, update
from uuid_utils import uuid7
from werkzeug.datastructures import FileStorage

from webapp import sizes
from webapp.clock import now
from webapp.security import digest
from webapp.shop import session, undoing
from webapp.shop.forms import ButtonForm, tidy
from webapp.shop.jobs import job_parts
from webapp.storage import audit, images, photo_files, photo_places
from webapp.storage.decoding import BadPicture
from webapp.storage.models import jobs, photos
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("bench_photos", __name__, url_prefix="/shop")
Json = dict[str, Any]
AT_ONCE = 10
MOST = 60  # of one job


@blueprint.route("/jobs/<int:job_id>/photos", methods=["GET", "POST"])
def add(job_id: int) -> ResponseReturnValue:
    """Keep each that is a photo; those that are not are named, and the others stay kept."""
    with store().reading() as connection:
        job = session.own(connection, jobs, job_id)
    form = ButtonForm()
    if not form.validate_on_submit():
        return redirect(page_of(job_id))
    sent = [file for file in request.files.getlist("photos") if file.filename]
    wrong = [] if sent else [say("shop-photos-none")]
    if len(sent) > AT_ONCE:
        wrong.append(say("shop-photos-at-once", most=AT_ONCE, left=len(sent) - AT_ONCE))
    count = 0
    for file in sent[:AT_ONCE]:
        try:
            count += keep(job, file)
        except BadPicture as error:
            wrong.append(told(file, error))
    if not wrong:
        flash(say("shop-photos-kept", count=count) if count else say("shop-photos-known"))
        return redirect(page_of(job_id))
    parts = {"photo_wrong": wrong, "photo_count": count, "button": ButtonForm()}
    return render_template("shop/job.html", **job_parts(job_id), **parts), 422


def page_of(job_id: int) -> str:
    return url_for("jobs.show", job_id=job_id) + "#photos"


def told(file: FileStorage, error: BadPicture) -> str:
    words = f"error-photo-{error.code}"
    why = f"{say(words, **error.values)} {say(f'{words}.fix')}"
    return say("shop-photos-wrong", name=tidy(file.filename or "")[-40:], why=why)


def keep(job: Json, file: FileStorage) -> bool:
    """Keep one photo, cleaned; False where the job has it already. Raises ``BadPicture``."""
    with closing(file):
        body = file.stream.read(sizes.PHOTO + 1)
    if not body:
        raise BadPicture("empty")
    if len(body) > sizes.PHOTO:
        raise BadPicture("too_large", most=f"{sizes.PHOTO // 1_000_000}")
    received = sha256(body).hexdigest()
    picture = images.cleaned(body)
    photo = str(uuid7())
    row: Json = {"id": photo, "record_id": job["form"], "job_id": job["id"]}
    row |= {"shop_id": job["shop_id"], "device_hash": digest(job["form"])}
    row |= {"point": "", "place": "", "received_sha256": received, "sha256": picture.sha256}
    row |= {"length": len(picture.data), "width": picture.width, "height": picture.height}
    row |= {"path": photo_places.path_of(photo), "received": now()}
    with store().writing() as connection:
        # The row of the job is held, so that of two at once the second sees the first.
        held = select(jobs.c.id).where(jobs.c.id == job["id"]).with_for_update()
        if connection.execute(held).first() is None:
            abort(404)
        if not is_new(connection, job, received):
            return False
        connection.execute(photos.insert().values(**row))
        audit.write(connection, session.me(), "job", job["id"], "photographed")
        store().photos.write(row["path"], picture.data)
    photo_files.forget_removed(store(), undoing.FOR)
    return True


def is_new(connection: Connection, job: Json, received: str) -> bool:
    """Whether the job lacks it; one that was removed is brought back. Raises ``BadPicture``."""
    mine = photos.c.job_id == job["id"]
    there = connection.execute(
        select(photos.c.id, photos.c.received_sha256, photos.c.removed).where(mine)
    ).all()
    same = next((row for row in there if row.received_sha256 == received), None)
    if same is None:
        if len(there) >= MOST:
            raise BadPicture("job_full", most=str(MOST))
        return True
    if same.removed is not None:
        connection.execute(update(photos).where(photos.c.id == same.id).values(removed=None))
    return False


@blueprint.post("/photos/<uuid:photo>/remove")
def remove(photo: UUID) -> ResponseReturnValue:
    with store().writing() as connection:
        row = own(connection, photo)
        if row["removed"] is None:
            here = update(photos).where(photos.c.id == row["id"])
            connection.execute(here.values(removed=now()))
            audit.write(connection, session.me(), "job", row["job_id"], "unphotographed")
    photo_files.forget_removed(store(), undoing.FOR)
    flash(say("shop-photos-removed", days=undoing.FOR.days))
    return redirect(page_of(row["job_id"]))


@blueprint.post("/photos/<uuid:photo>/unremove")
def unremove(photo: UUID) -> ResponseReturnValue:
    with store().writing() as connection:
        row = own(connection, photo)
        if row["removed"] is not None:
            undoing.unless_late(row["removed"])
            here = update(photos).where(photos.c.id == row["id"])
            connection.execute(here.values(removed=None))
            audit.write(connection, session.me(), "job", row["job_id"], "rephotographed")
    flash(say("shop-undone"))
    return redirect(page_of(row["job_id"]))


def own(connection: Connection, photo: UUID) -> Json:
    """The shop's own photo from the bench; all others are as absent as none."""
    mine = (photos.c.id == str(photo), photos.c.shop_id == session.me()["shop_id"])
    wanted = select(photos).where(*mine, photos.c.job_id.is_not(None))
    row = connection.execute(wanted).mappings().first()
    if row is None:
        abort(404)
    return dict(row)
