"""The command that uploads: what changed, what to delete, or a folder filled at once."""

from __future__ import annotations

from proofgen import pipeline
from proofgen.cli import printing, running
from proofgen.cli.commands import Publish
from proofgen.errors import EXIT_DONE, EXIT_FINDING, UsageError
from proofgen.pipeline.uploads import Upload
from proofgen.say import plural
from proofgen.workshop import Workshop

_KILO, _MEGA = 1000, 1_000_000


def publish(given: Publish) -> int:
    """Prepare an upload, note that it is done, or fill a folder."""
    if sum(map(bool, (given.zip, given.into, given.done))) > 1:
        raise UsageError("--zip, --into and --done stand alone", "proofgen publish")
    if given.over and not given.into:
        raise UsageError("--over goes with --into", "proofgen publish --into FOLDER --over")
    with running.workshop_of(given, writes=True) as workshop:
        if given.done:
            count = pipeline.uploads.done(workshop)
            printing.result(f"Noted: {plural(count, 'file')} are at your host.")
            return EXIT_DONE
        if given.into:
            upload = pipeline.upload_targets.fill(workshop, given.into, over=given.over)
            printing.result(
                f"{given.into} holds the site: {plural(len(upload.changed), 'file')} written, "
                f"{len(upload.gone)} deleted, {len(upload.files)} in all."
            )
        else:
            upload = _prepare(workshop, given)
    for line in pipeline.upload_targets.told(upload):
        printing.aside(line)
    if pipeline.is_older(workshop):
        printing.aside(
            "The catalogue is older than the files that it is made from, so these pages may show "
            "what is no longer so. Make it anew first: proofgen build; then: proofgen publish"
        )
    printing.faults(workshop.trouble)
    return EXIT_FINDING if upload.held_back else workshop.exit_code


def _prepare(workshop: Workshop, given: Publish) -> Upload:
    before = {} if given.all else pipeline.uploads.of_host(workshop)
    upload = pipeline.uploads.prepared(workshop, before)
    pipeline.uploads.write_lists(workshop, upload)
    if not upload.changed and not upload.gone:
        printing.result("Nothing changed since the last upload.")
        return upload
    if upload.changed and given.zip:
        pipeline.upload_targets.packed(workshop, upload, given.zip)
        where = f"in {given.zip}: unpack it over the site at your host"
    else:
        folder = pipeline.upload_targets.copies(workshop, upload)
        where = f"in {folder}: upload what is in it, folders and all, over the site at your host"
    if upload.changed:
        printing.result(
            f"{plural(len(upload.changed), 'file')} to upload ({_size(upload.bytes)}), {where}."
        )
    if upload.gone:
        printing.result(
            f"{plural(len(upload.gone), 'file')} to delete there, after that: "
            f"{pipeline.uploads.home(workshop) / pipeline.uploads.DELETE}"
        )
    printing.result("    Next, once it is uploaded: proofgen publish --done")
    return upload


def _size(count: int) -> str:
    if count < _MEGA:
        return f"{max(1, round(count / _KILO))} kB"
    return f"{count / _MEGA:.1f} MB"
