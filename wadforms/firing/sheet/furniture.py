"""Cards of what holds a level: where its posts stand, and the wads above and below them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from wadforms.firing.plan import Chosen
from wadforms.firing.rows import Posts, Shelf
from wadforms.firing.sheet.levels import Level
from wadforms.firing.sheet.parts import Card, Pick
from wadforms.firing.sheet.picks import pick, told_alike
from wadforms.firing.standing import listed
from wadforms.firing.touches import ON_POST, UNDER_POST
from wadforms.setting.assessment import VERDICTS
from wadforms.setting.feet import PlaneFoot
from wadforms.templates.card_picture import by_rule, shelf_plan


def furniture(level: Level) -> Iterator[Card]:
    """Yield the cards of a level's posts and shelf; touches with the same wads share a picture.

    Examples
    --------
    >>> list(furniture(Level(heading="On the floor", chosen=())))
    []
    """
    held = [one for one in level.chosen if isinstance(one.touch.row, Shelf | Posts)]
    on_posts = any(one.touch.kind in (ON_POST, UNDER_POST) for one in held)
    if level.shelf is not None and level.shelf.posts_at and on_posts:
        yield _plan_card(level.shelf, held)
    alike: defaultdict[tuple[object, ...], list[Chosen]] = defaultdict(list)
    for one in held:
        alike[told_alike(one)].append(one)
    named: defaultdict[tuple[str, int], list[Pick]] = defaultdict(list)
    for ones in alike.values():
        named[_name(ones, held)].append(_pick(ones, level.shelf))
    for (name, count), picks in named.items():
        yield Card(name=name, count=f"× {count}", picks=tuple(picks))


def _plan_card(shelf: Shelf, held: Sequence[Chosen]) -> Card:
    """Where the posts of a shelf stand, seen from above."""
    feet = [one.touch.row.foot for one in held if isinstance(one.touch.row, Posts)]
    feet += [one.touch.room for one in held if one.touch.room is not None]
    ends = feet[-1].outlines if feet and isinstance(feet[-1], PlaneFoot) else ()
    title = f"{shelf.name}: where its posts stand"
    picture = shelf_plan(shelf.length, shelf.width, shelf.posts_at, ends, title=title)
    lines = ["middles of its posts from the dot, in mm:"]
    lines += [
        f"{number}: {by_rule(x)} right, {by_rule(y)} up"
        for number, (x, y) in enumerate(shelf.posts_at, 1)
    ]
    told = Pick(
        where="from above; the dot marks the same corner on every level",
        wads=f"{by_rule(shelf.length)} × {by_rule(shelf.width)} mm",
        lines=tuple(lines),
        alone=picture,
        wide=True,
    )
    return Card(name=f"{shelf.name}: plan", count=f"× {shelf.count}", picks=(told,))


def _name(ones: Sequence[Chosen], held: Sequence[Chosen]) -> tuple[str, int]:
    """What a card is about, and how many there are of it in this level."""
    posts = list(dict.fromkeys(o.touch.row.name for o in ones if isinstance(o.touch.row, Posts)))
    if not posts:
        row = ones[0].touch.row
        return row.name, row.count
    count = sum(one.touch.count for one in held if one.touch.row.name in posts)
    both = any(one.touch.kind == ON_POST for one in ones)
    return listed(posts) + (": top and bottom" if both else ""), count


def _pick(ones: Sequence[Chosen], shelf: Shelf | None) -> Pick:
    """One picture for touches with the same wads, with the verdict of the worst of them."""
    worst = max(ones, key=lambda one: VERDICTS.index(one.verdict or VERDICTS[0]))
    between: defaultdict[str, list[Chosen]] = defaultdict(list)
    for one in ones:
        between[_between(one)].append(one)
    where = "; ".join(words + _which(alike, shelf) for words, alike in between.items())
    told = pick(worst, where=where, touches=sum(one.touch.count for one in ones))
    if told.figures and worst.wads is not None and len(ones) > 1:
        at = f"{_between(worst)}{_which([worst], shelf)}"
        told = replace(told, figures=(f"{at}: {told.figures[0]}", *told.figures[1:]))
    return told


def _between(one: Chosen) -> str:
    touch = one.touch
    if touch.kind == ON_POST:
        return f"{touch.row.name} on its posts"
    return f"{touch.row.name} on {touch.lower}"


def _which(ones: Sequence[Chosen], shelf: Shelf | None) -> str:
    """Which posts of a shelf touches are about, by their numbers on its plan; empty for all."""
    if shelf is None:
        return ""
    numbers = [
        str(number)
        for number, (x, y) in enumerate(shelf.posts_at, 1)
        if any(f"({x:g}, {y:g})" in one.name for one in ones)
    ]
    if not numbers or len(numbers) == len(shelf.posts_at):
        return ""
    return f", post{'s' * (len(numbers) > 1)} {listed(numbers)}"
