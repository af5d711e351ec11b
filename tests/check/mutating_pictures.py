"""Faults in the pictures of drawings."""

from __future__ import annotations

import io
import random
from collections.abc import Callable, Sequence

from check.folders import Folder, Pattern, folder, pictures, renewed
from check.mutating import Mutant, enter_file, right_at
from PIL import Image

from gussetry.plan import Job

Paint = Callable[[Image.Image, random.Random], "Image.Image | None"]


def _dots(png: bytes) -> float:
    with Image.open(io.BytesIO(png)) as image:
        return float(round(image.info["dpi"][0]))


def _saved(image: Image.Image, dpi: float) -> bytes:
    with io.BytesIO() as out:
        image.save(out, "PNG", dpi=(dpi, dpi), compress_level=1)
        return out.getvalue()


def _painted(own: Pattern, chance: random.Random, kinds: Sequence[str] = ()) -> tuple[Job, Folder]:
    jobs = [job for job in own.jobs.values() if not kinds or job.kind in kinds]
    job = chance.choice(jobs)
    return job, folder(own, [job.name], painted=True)


def picture(name: str, kinds: Sequence[str] = ()) -> Callable[[Paint], Paint]:
    """Enters a way to repaint a drawing's picture among the faults."""

    def enter(paint: Paint) -> Paint:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            job, made = _painted(own, chance, kinds)
            file = f"{job.name}.png"
            with Image.open(io.BytesIO(made[file])) as image:
                done = paint(image.convert("RGB"), chance)
            if done is None:
                return None
            made[file] = _saved(done, _dots(made[file]))
            return Mutant(name, file, renewed(made), (right_at(file, "picture"),))

        return paint

    return enter


@picture("a picture resampled to fewer dots")
def resampled(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.resize((image.width // 2, image.height // 2))


@picture("a picture resampled and scaled back")
def soft(image: Image.Image, chance: random.Random) -> Image.Image:
    share = chance.choice((0.5, 0.7, 0.85))
    small = image.resize((int(image.width * share), int(image.height * share)),
                         Image.Resampling.BICUBIC)  # fmt: skip
    return small.resize(image.size, Image.Resampling.BICUBIC)


@picture("a picture mirrored")
def flipped(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.transpose(Image.Transpose.FLIP_LEFT_RIGHT)


@picture("a picture in negative")
def negative(image: Image.Image, chance: random.Random) -> Image.Image:
    return image.point(lambda level: 255 - level)


@picture("a picture shifted")
def shifted(image: Image.Image, chance: random.Random) -> Image.Image:
    moved = Image.new("RGB", image.size, image.getpixel((1, 1)))
    moved.paste(image, (9, 0))
    return moved


@picture("an empty picture")
def empty(image: Image.Image, chance: random.Random) -> Image.Image:
    return Image.new("RGB", image.size, image.getpixel((1, 1)))


@picture("a spot of a picture painted over")
def spotted(image: Image.Image, chance: random.Random) -> Image.Image | None:
    """A patch of paper, 3 mm wide, over something that stands out from it."""
    half, paper = 18, image.convert("L").getpixel((1, 1))
    assert isinstance(paper, int)
    for _ in range(300):
        x = chance.randrange(half, image.width - half)
        y = chance.randrange(half, image.height - half)
        area = (x - half, y - half, x + half, y + half)
        ends = image.crop(area).convert("L").getextrema()
        # What is of the paper's colour already is not changed: no fault.
        if max(abs(float(str(end)) - paper) for end in ends) > 120:
            image.paste(image.getpixel((1, 1)), area)
            return image
    return None


@enter_file("a picture of other dots an inch than it says")
def other_dots(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    with Image.open(io.BytesIO(made[file])) as image:
        made[file] = _saved(image.convert("RGB"), chance.choice((72, 96, 299, 600)))
    return Mutant("a picture of other dots an inch than it says", file, renewed(made),
                  (right_at(file, "picture"),))  # fmt: skip


@enter_file("a picture cut short")
def cut_picture(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    made[file] = made[file][: chance.randrange(10, len(made[file]) - 1)]
    return Mutant("a picture cut short", file, renewed(made),
                  (right_at(file, "picture", "unreadable"),))  # fmt: skip


@enter_file("a picture of another size of the same drawing")
def other_picture(own: Pattern, chance: random.Random) -> Mutant | None:
    job, made = _painted(own, chance)
    same = [other.name for other in own.jobs.values()
            if other.kind == job.kind and other.name != job.name]  # fmt: skip
    if not same:
        return None
    file, other = f"{job.name}.png", chance.choice(same)
    png = pictures(own.example, own.style.name, other)[0]
    # Two sizes whose pictures are the same show the same: no fault.
    if png == made[file]:
        return None
    made[file] = png
    return Mutant("a picture of another size of the same drawing", file, renewed(made),
                  (right_at(file, "picture"),))  # fmt: skip


@enter_file("a picture missing")
def lost_picture(own: Pattern, chance: random.Random) -> Mutant:
    job, made = _painted(own, chance)
    file = f"{job.name}.png"
    del made[file]
    return Mutant("a picture missing", file, renewed(made), (right_at(file, "missing"),))
