"""Lines on pages: what there is no room for stands on a further one, and each page says so. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content

MUTED = "$text-muted"
OWN_LINE = 4
"""Lines from which the keys that turn a page have one of their own."""


def turn_words(more: int, *, back: bool) -> str:
    """The last line of a page: how many lines follow on further ones, and the keys that turn it.

    >>> turn_words(3, back=False), turn_words(1, back=True), turn_words(0, back=True)
    ('… 3 lines more: ^Down', '… 1 line more: ^Down, ^Up', '^Up goes back')
    """
    return f"… {more} line{'s' * (more > 1)} more: ^Down{', ^Up' * back}" if more else "^Up goes back"


def pages_of(lines: Sequence[Content], width: int, height: int) -> list[list[Content]]:
    """The lines in pages of so many, the last page a full one.

    >>> [[line.plain for line in page] for page in pages_of([Content(str(n)) for n in range(6)], 40, 4)]
    [['0', '1', '2', '… 3 lines more: ^Down'], ['3', '4', '5', '^Up goes back']]
    >>> [[line.plain for line in page] for page in pages_of([Content(str(n)) for n in range(4)], 40, 2)]
    [['0', '1 … ^Down'], ['2', '3 … ^Up']]
    """
    if len(lines) <= height or height < 1:
        return [list(lines[: max(0, height)])]
    room = height - 1 if height >= OWN_LINE else height
    pages = []
    for start in (*range(0, len(lines) - room, room), len(lines) - room):  # the last page is a full one
        page, more = list(lines[start : start + room]), len(lines) - start - room
        if room < height:
            page.append(Content.styled(turn_words(more, back=start > 0), MUTED))
        else:
            turn = Content.styled(" … ^Down" if more > 0 else " … ^Up", MUTED)
            page[-1] = page[-1].truncate(width - turn.cell_length, ellipsis=True) + turn
        pages.append(page)
    return pages


def packed(blocks: Iterable[Sequence[Content]], height: int) -> list[list[Content]]:
    """Blocks in pages of so many lines, none divided unless it is longer than a page.

    >>> one, two = [Content("a")] * 3, [Content("b")] * 2
    >>> [[line.plain for line in page] for page in packed([one, two], 5)]
    [['a', 'a', 'a', 'b', 'b']]
    >>> [[line.plain for line in page] for page in packed([one, two], 4)]
    [['a', 'a', 'a', '… 2 lines more: ^Down'], ['b', 'b', '^Up goes back']]
    """
    kept = [block for block in blocks if block]
    room = max(2, height)
    if sum(map(len, kept)) <= room:
        return [[line for block in kept for line in block]]
    pages: list[list[Content]] = [[]]
    for block in kept:
        if pages[-1] and len(pages[-1]) + len(block) > room - 1:
            pages.append([])
        for line in block:
            if len(pages[-1]) >= room - 1:
                pages.append([])
            pages[-1].append(line)
    more = sum(map(len, pages))
    for n, page in enumerate(pages):
        more -= len(page)
        page.append(Content.styled(turn_words(more, back=n > 0), MUTED))
    return pages
