"""Which cells that cannot be computed may keep what is stored without anybody asking."""

from __future__ import annotations

from gasfuncs.hosts.headless.book import Book, Group, Unknown


def unknown_cells(book: Book) -> dict[Group, list[tuple[int, Unknown]]]:
    """The cells without a value, by group: their rows and why."""
    found = {}
    for group in book.groups:
        cells = group.grid.columns[group.column]
        rows = [(row, cells[row]) for row in group.rows if isinstance(cells[row], Unknown)]
        if rows:
            found[group] = rows
    return found


def linked_with_ours(book: Book, unknown: dict[Group, list[tuple[int, Unknown]]]) -> set[Group]:
    """The groups without values that a call of the library depends on, or that depend on one.

    What these keep may be out of date beside results that are new.
    """
    if not any(group.shape.ours for group in book.groups):
        return set()
    linked: set[Group] = set()
    for group in unknown:
        above = _precedents(book, group)
        if group.shape.ours:
            linked |= {group, *(other for other in above if other in unknown)}
        if any(other.shape.ours or other.shape.blind for other in (group, *above)):
            linked.add(group)
    return linked


def _precedents(book: Book, group: Group) -> set[Group]:
    """All groups whose cells a group takes, directly or through others."""
    found: set[Group] = set()
    waiting = [group]
    while waiting:
        new = set(book.taken_by(waiting.pop())) - found
        found |= new
        waiting += new
    return found
