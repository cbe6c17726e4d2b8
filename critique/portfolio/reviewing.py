"""Every picture of a ledger gets its review: made, or taken over from where it already lies."""

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from critique.errors import CritiqueError
from critique.portfolio.engine import Engine
from critique.portfolio.ledger import FAILED, PRESENT, File, Ledger, Page
from critique.portfolio.moving import copy_review, remove_review
from critique.portfolio.places import REVIEWS, THUMBNAILS, outline_path, thumbnail_path
from critique.portfolio.progress import Progress
from critique.portfolio.remembered import remembered_of
from critique.portfolio.version import measuring_version
from critique.portfolio.work import Outcome, Task
from critique.publish import sweep
from critique.report.write import PAGE

BATCH = 500  # pictures looked up in the ledger at a time, so that memory stays flat


class Reviewing:
    """The reviews below ``out`` of the pictures below ``folder``, kept in step with the ledger."""

    def __init__(self, folder: Path, out: Path, ledger: Ledger, plates: bool, paintings: Path | None = None) -> None:
        self.folder, self.out, self.ledger, self.plates = folder, out, ledger, plates
        self.paintings = paintings
        self.version = measuring_version()
        self.reviewed = self.taken_over = 0

    def bring_up_to_date(self, engine: Engine, progress: Progress) -> None:
        """Review what is new or changed; move and copy what only has another name."""
        if outdated := self.ledger.count_outdated(self.version):
            pictures = "1 picture is" if outdated == 1 else f"{outdated} pictures are"
            progress.say(f"critique: the program has changed since the last run: {pictures} reviewed again")
        self._forget_lost()
        self._take_over()
        # A second file of the same content waits for the first one's review, and takes it over.
        before = None
        while total := self.ledger.count_unserved(self.version, self.plates):
            if total == before:
                raise CritiqueError(
                    f"{total} reviews can't follow their pictures' names; delete the portfolio's folder and run again"
                )
            before = total
            for _ in progress.over(self._review_all(engine, progress), total):
                pass
            self._take_over()
        self._clear_away()

    def _forget_lost(self) -> None:
        """A page or thumbnail that someone deleted is made again."""
        served = set(self.ledger.folders())
        for page in self.ledger.pages():
            there = self._review(page.folder, PAGE).exists() and (self.out / thumbnail_path(page.content)).exists()
            if not there:
                self._forget(page, served)
        self.ledger.commit()

    def _forget(self, page: Page, served: set[str]) -> None:
        """Forget a review that isn't whole; what is left of it goes, where a killed run was taking it away."""
        if page.folder not in served:
            remove_review(self._review(page.folder), self.out / REVIEWS)
        self.ledger.forget_page(page.folder)

    def _take_over(self) -> None:
        """Copy the review of a picture that is known under another name or in another place."""
        after, served = "", set(self.ledger.folders())
        while files := self.ledger.unserved(self.version, self.plates, after, BATCH):
            after = files[-1].path
            for file in files:
                if not self.ledger.known(file.content, self.version):
                    continue
                page = self.ledger.page_of(file.content, self.version, self.plates)
                if page is None:
                    continue
                # What the folder held is overwritten: the ledger must not promise it any longer.
                self.ledger.forget_page(file.folder)
                self.ledger.commit()
                if copy_review(self._review(page.folder), self._review(file.folder), page.name, file.name):
                    self.ledger.keep_page(replace(page, folder=file.folder, name=file.name))
                    self.taken_over += 1
                else:
                    self._forget(page, served)
                self.ledger.commit(at_once=False)

    def _review_all(self, engine: Engine, progress: Progress) -> Iterator[None]:
        """Review what has no review, each content once; yields once for each."""
        after = ""
        while files := self.ledger.unserved(self.version, self.plates, after, BATCH):
            after = files[-1].path
            first = {file.content: file for file in reversed(files)}
            files = [file for content, file in sorted(first.items(), key=_path) if not self._has_review(content)]
            for file in files:
                self.ledger.forget_page(file.folder)
            self.ledger.commit()
            for outcome in engine([self._task(number, file) for number, file in enumerate(files)]):
                self._keep(files[outcome.number], outcome, progress)
                yield

    def _has_review(self, content: str) -> bool:
        known = self.ledger.known(content, self.version)
        return known and self.ledger.page_of(content, self.version, self.plates) is not None

    def _task(self, number: int, file: File) -> Task:
        return Task(
            number=number,
            picture=os.path.abspath(self.folder / file.path),
            content=file.content,
            version=self.version,
            folder=os.path.abspath(self._review(file.folder)),
            thumbnail=os.path.abspath(self.out / thumbnail_path(file.content)),
            outline=os.path.abspath(self.out / outline_path(file.content)),
            plates=self.plates,
            remembered=remembered_of(self.folder / file.path, self.paintings),
        )

    def _keep(self, file: File, outcome: Outcome, progress: Progress) -> None:
        """Write an outcome into the ledger: the row and the page in one transaction."""
        if outcome.row is None:
            self._keep_failure(file, outcome, progress)
            return
        self.ledger.keep_result(file.content, self.version, outcome.row)
        self.ledger.keep_page(Page(file.folder, file.content, self.version, file.name, self.plates))
        self.ledger.commit(at_once=False)
        self.reviewed += 1

    def _keep_failure(self, file: File, outcome: Outcome, progress: Progress) -> None:
        """Mark a file as failed. Where it is the content's fault, its copies fail too, and it isn't read again."""
        reason = outcome.reason.removeprefix(f"{file.name}: ")
        failed = [file]
        if outcome.lasting:
            self.ledger.keep_unreadable(file.content, self.version, reason)
            failed = self.ledger.files_of(file.content, PRESENT)
        for each in failed:
            line = f"{each.name}: {reason}"
            self.ledger.set_state(each.path, FAILED, line)
            progress.say(f"critique: {line}")
            if self._review(each.folder).is_dir():  # of what the file was before
                remove_review(self._review(each.folder), self.out / REVIEWS)

    def _clear_away(self) -> None:
        """Delete reviews and thumbnails of pictures that were renamed, changed or forgotten."""
        for folder in self.ledger.orphaned_pages():
            remove_review(self._review(folder), self.out / REVIEWS)
            self.ledger.forget_page(folder)
        for content in self.ledger.unused_results():
            (self.out / thumbnail_path(content)).unlink(missing_ok=True)
            (self.out / outline_path(content)).unlink(missing_ok=True)
            self.ledger.forget_result(content)
        self.ledger.forget_unused_reasons()
        self.ledger.commit()
        self._clear_leftovers()

    def _clear_leftovers(self) -> None:
        """Delete what was left half-written by a run that was killed, or by a worker that died."""
        parents = {self._review(folder).parent for folder in self.ledger.folders()}
        for parent in (self.out, *parents, *self.out.joinpath(THUMBNAILS).glob("*/")):
            sweep(parent)

    def _review(self, *parts: str) -> Path:
        return self.out.joinpath(REVIEWS, *parts)


def _path(item: tuple[str, File]) -> bytes:
    return os.fsencode(item[1].path)
