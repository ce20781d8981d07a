"""The proof reads every word of a strip: names, readings, joints, treads, and the users' own."""

from __future__ import annotations

from dataclasses import replace

import pytest
from packs import job_of, sample
from proof_packs import (
    RAIL,
    TREAD,
    changed,
    flight,
    flight_text,
    found,
    place_of,
    reprinted,
    reworded,
    runs,
    said_too,
    unsaid,
    whole,
    with_page,
)
from strip_jobs import StripJob

from stairjig.drawing import Run, Text, moved
from stairjig.pack import make_pack
from stairjig.setout.build import set_out

NAMES = (
    "joint 4", "J1a", "3-1", "reads 3", "pack ABC123", "tile 2 of 3", "this face down", "OPEN SIDE",
)  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_names_that_look_like_the_proofs_own_words_are_proved(name: str) -> None:
    """Section, baluster and job are called as their owner likes."""
    text = flight_text(treads="{run: 10 1/4, times: 2}", upper="gap").replace("plain:", f"{name}:")
    text = text.replace("name: Flight", f"name: {name}").replace("Edge house", name)
    setout = set_out(job_of(text, "letter"))
    assert found(whole(setout), setout) == []


@pytest.mark.parametrize(
    ("strip", "old", "new", "says"),
    [
        (TREAD, "Tread 2", "Tread 8", "'Tread 8'"),
        (TREAD, "2-1", "2-7", "mark 2-1 stands nowhere"),
        (TREAD, "2-1", "2-2", "mark 2-2 stands 2 times"),
        (RAIL, "0″", "1″", "reading of mark 1-1"),
        (TREAD, "reads 9", "reads 8", "reading of mark 2-1"),
        (TREAD, "of tread 3", "of tread 4", "riser of tread 4', which the layout does not"),
        (TREAD, "line run 10", "line run 11", "'line run 11 1/4″"),
        (TREAD, "plain, 5/8", "plain, 3/4", "'plain, 3/4″ square', which"),
        (TREAD, "1″ deep", "2″ deep", "2″ deep', which the layout does not"),
        (TREAD, "left edge", "right edge", "says \"right edge on the tread's end"),
        (TREAD, "this face up", "this face down", "'this face down', which the layout"),
        (RAIL, "joint 1: ", "joint 1: 9", "joint 1"),
        (RAIL, "riser 1", "riser 7", "riser 7"),
        (RAIL, "tile 1 of", "tile 2 of", "tile"),
    ],
)
def test_wrong_words_are_told(strip: str, old: str, new: str, says: str) -> None:
    """On a sheet printed again alone, too; the strip is named, and the sheet."""
    said = reprinted(strip, reworded(old, new), says="1-1" if strip == RAIL else "")
    assert any(says in text for text in said), said
    assert any(text.startswith(f"{strip}, sheet ") for text in said)


def test_the_paper_of_another_revision_is_told() -> None:
    """One strip's pack ID, where the sheets say another."""
    own = f"pack {flight().pack_id}"
    said = changed(TREAD, reworded(own, "pack 7ZZZZZ"))
    assert any("'pack 7ZZZZZ', which the layout does not" in text for text in said)
    assert any(f"does not say {own!r}" in text for text in said)


@pytest.mark.parametrize(
    ("strip", "word", "says"),
    [
        (TREAD, "this face up", "'this face up'"),
        (TREAD, "OPEN SIDE", 'not say "OPEN SIDE'),
        (TREAD, "Tread 2", "'Tread 2'"),
        (TREAD, "zero", "'zero: this back edge"),
        (TREAD, "2-1", "mark 2-1 stands nowhere"),
        (TREAD, "reads 9", "reading of mark 2-1"),
        (RAIL, "this face down", "not say 'this face down"),
        (RAIL, "joint 1:", "not say 'joint 1: "),
        (RAIL, "lower end", 'not say "lower end'),
        (RAIL, "up the stair", "'up the stair"),
    ],
)
def test_words_that_may_not_be_missing_are_told(strip: str, word: str, says: str) -> None:
    said = changed(strip, unsaid(word), says="1-1" if strip == RAIL else "")
    assert any(says in text for text in said), said


def test_the_whole_length_of_a_rail_may_not_be_missing() -> None:
    pages, setout = whole(flight()), flight()
    for number, page in enumerate(pages):
        items = tuple(
            replace(item, items=tuple(unsaid("whole strip")(list(item.items))))
            if hasattr(item, "items") else item for item in page.items
        )  # fmt: skip
        pages = with_page(pages, number, items)
    assert any(text.startswith(f"{RAIL}: none of its tiles says") for text in found(pages, setout))


@pytest.mark.parametrize(
    ("strip", "text", "beside"),
    [
        (TREAD, "reads 9 15/16″", "reads 9 15/16″"),
        (TREAD, "reads 8″", "reads 9 15/16″"),
        (TREAD, "8″", "reads 9 15/16″"),
        (TREAD, "2-1", "2-1"),
        (TREAD, "Tread 2", "Tread 2"),
        (TREAD, "riser 9", "Tread 2"),
        (RAIL, "1 1/2″", "0″"),
        (RAIL, "joint 2: 5″", "J1a"),
        (RAIL, "J1a", "J1b"),
    ],
)
def test_a_second_word_of_a_kind_is_told(strip: str, text: str, beside: str) -> None:
    assert reprinted(strip, said_too(text, beside), says=beside)


def test_notes_apart_under_another_marks_name_are_told() -> None:
    """Notes that stand apart from their mark's name begin with it: of no other mark."""
    setout = sample("harbour-a4.yaml")
    pages = whole(setout)
    renamed = 0
    for number, page in enumerate(pages):
        for n in runs(page):
            part = page.items[n]
            assert isinstance(part, Run)
            items = list(part.items)
            at = [i for i, item in enumerate(items) if _begins(item, "3-1: ")]
            for i in at:
                text = items[i]
                assert isinstance(text, Text)
                items[i] = replace(text, text=text.text.replace("3-1: ", "2-2: "))
                part = replace(part, items=tuple(items))
                changed_page = (*page.items[:n], part, *page.items[n + 1 :])
                said = found(with_page(pages, number, changed_page), setout)
                assert any("stands beside mark 3-1" in fault for fault in said), said
                renamed += 1
    assert renamed == 1
    assert found(pages, setout) == []


def _begins(item: object, words: str) -> bool:
    return isinstance(item, Text) and item.text.startswith(words)


def test_words_at_another_mark_are_told() -> None:
    """A reading, a name and a note each belong to the mark that they stand nearest to."""

    def swap(first: str, second: str):  # type: ignore[no-untyped-def]
        other = {first: second, second: first}
        return lambda items: [
            replace(i, text=other.get(i.text, i.text)) if isinstance(i, Text) else i for i in items
        ]

    def shift_note(items):  # type: ignore[no-untyped-def]
        first = next(n for n, i in enumerate(items) if getattr(i, "text", "").startswith("plain,"))
        return [moved(i, (0.0, 87.0)) if n in (first, first + 1) else i
                for n, i in enumerate(items)]  # fmt: skip

    said = changed(TREAD, swap("reads 9 15/16″", "reads 6 1/2″"))
    assert any("stands beside mark 2-1, which it is not said of" in text for text in said), said
    assert any("mm along" in text for text in changed(TREAD, swap("2-1", "2-2")))
    assert any("stands beside mark 2-2" in text or "stands 2 times" in text
               for text in changed(TREAD, shift_note))  # fmt: skip


def test_each_joint_is_read_on_both_its_tiles() -> None:
    pages = whole(flight())
    number, n = place_of(pages, RAIL, says="2-2")
    items = pages[number].items[n].items
    mine = [i.text for i in items if isinstance(i, Text) and i.text.startswith("joint ")]
    assert len(mine) == 2
    for words in mine:
        said = changed(RAIL, unsaid(words), says="2-2")
        assert any("it does not say 'joint " in text for text in said)


def test_a_standing_newel_may_take_the_room_of_what_is_said_of_the_open_side() -> None:
    """A wide newel on a short tread leaves nothing of the tread's end beside it."""
    assert make_pack(job_of(StripJob(701185).text()), proof=True).data
