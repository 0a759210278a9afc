"""A lesson in front of a class: one question at a time, the room's predictions tallied.

Each step shows what belongs to it and nothing that comes later: the stage of the lesson, then its
show of hands, then its exit question.  Going back shows an earlier step as it was, with what was
locked in; nothing can be said twice.
"""

from contextlib import suppress
from html import escape
from typing import Any

import ipywidgets as w

from leverarm import panels
from leverarm.data import lessons, toml_file
from leverarm.exercises.room import (
    RoomQuestion,
    RoomSaid,
    lock_text,
    read_called,
    read_hands,
    room_questions,
    room_words,
)
from leverarm.panels.base import (
    Panel,
    button,
    html,
    html_table,
    row,
    set_if_changed,
    shared,
    show_if,
)
from leverarm.panels.controls import dropdown, text_box
from leverarm.panels.lesson_work import keep_work, kept_work
from leverarm.panels.written import demo_numbers
from leverarm.quantities import Refusal

# The stage of each lesson and its steps: "ask" is locked in by the room, "see" shows what comes.
ONE_QUESTION = "ask see why try"
STAGES = {
    "01": ("plank_stage", "ask ask see see ask see see why try"),
    "02": ("tractor_stage", ONE_QUESTION),
    "04": ("strip_stage", ONE_QUESTION),
    "05": ("yard_stage", ONE_QUESTION),
    "08": ("arms_stage", ONE_QUESTION),
    "09": ("ballast_stage", ONE_QUESTION),
    "10": ("tire_stage", ONE_QUESTION),
    "11": ("lead_stage", ONE_QUESTION),
    "12": ("setups_stage", ONE_QUESTION),
}
STAGED = ("ask", "see", "why", "try")
VOTES = ("first", "second")
_VOTE = {"vote": "first", "again": "second"}
# What the class wrote stays with the class; the stage only has to know that it was written.
WRITTEN = "Written by the class."


class ClassView(Panel):
    """A lesson, step by step.

    lesson      its number as text
    steps       the kind of each step: ask, see, why, try, vote, again, answer, exit, compare
    at          the place of the step shown
    said        for each question locked in, what the room said, by the name the stage gives it
    votes       the hands for each letter, "first" and "second" vote
    stage       the lesson's picture as the class sees it; None where it has none
    """

    def __init__(self, lesson: str) -> None:
        known = [f"{number:02d}" for number in lessons()]
        if lesson not in known:
            allowed = f"{known[0]} to {known[-1]}"
            raise Refusal("lesson", lesson, allowed, "give its number in two digits")
        self.lesson, self._data = lesson, toml_file(f"lesson_{lesson}")
        self._words = toml_file("class_view")
        self._asked = room_questions(self._data)
        name, on_stage = STAGES.get(lesson, ("", ""))
        self._stage_name = name
        polled = "vote again answer" if "poll" in self._data else ""
        self.steps = tuple(f"{on_stage} {polled} {'exit compare' * ('exit' in self._data)}".split())
        self._begin()
        super().__init__()
        self.widget.add_class("lv-class")
        self.attempt(self._set_stage)
        self.attempt(self._tell_restart)

    def _begin(self) -> None:
        self.at = 0
        self.said: list[dict[str, RoomSaid]] = []
        self.votes: dict[str, tuple[int, ...]] = {}
        self.stage: Any = None

    def build(self) -> list[w.Widget]:
        words = self._words.part("words")
        self.back_button = button(words.text("back"), lambda: self.attempt(self.back))
        self.go_button = button(words.text("back"), lambda: self.attempt(self.go_on), primary=True)
        self.over_button = button(words.text("start_over"), lambda: self.attempt(self.start_over))
        self.fill_button = button(words.text("fill"), lambda: None)
        for made, name in (
            (self.back_button, "lv-backward"),
            (self.go_button, "lv-forward"),
            (self.fill_button, "lv-fill"),
        ):
            made.add_class(name)
        self.place, self.note, self.summary = html(), html("", "lv-say"), html()
        self.boxes = {one.name: self._boxes(one) for one in self._asked}
        self.vote_box = text_box(words.text("votes").format(letters=", ".join(self._options)))
        typed = row(*(box for boxes in self.boxes.values() for box in boxes.values()))
        self.asking = w.VBox([html(f"<p>{escape(self._ways())}</p>"), typed])
        self.asking.add_class("lv-asking")
        moves = row(self.back_button, self.go_button, self.over_button, self.fill_button)
        told = [self.place, self.note, self.asking, self.vote_box, self.summary]
        side = w.VBox([moves, *told])
        side.add_class("lv-class-side")
        self.picture, self.board = w.VBox(), html("", "lv-class-board")
        return [side, self.picture, self.board]

    def _ways(self) -> str:
        """How to type what the room says."""
        if not self._asked:
            return ""
        ways, numbers = self._asked[0].ways, any(one.kind for one in self._asked)
        example = ", ".join(map(str, (12, 5, 8, 2)[: len(ways)]))
        told = self._words.part("words").text("ways" if numbers else "ways_only")
        return told.format(ways=", ".join(ways), example=example)

    def _boxes(self, one: RoomQuestion) -> dict[str, w.Text]:
        words = self._words.part("words")
        names = ("hands", "numbers") if one.kind else ("hands",)
        return {name: text_box(words.text(name).format(label=one.label)) for name in names}

    @property
    def _options(self) -> dict[str, str]:
        """The options of the vote by letter."""
        texts = self._data.part("poll").texts("options", ())
        return dict(zip("ABCDEF", texts, strict=False))

    @property
    def step(self) -> str:
        """The kind of the step shown."""
        return self.steps[self.at]

    @property
    def answered(self) -> bool:
        """Whether the question shown, or the vote, was locked in already."""
        if self.step == "ask":
            return self.steps[: self.at].count("ask") < len(self.said)
        return _VOTE.get(self.step, "") in self.votes

    def follow_shared(self) -> None:
        """Follow the units.  The type is large in any case, by the rules of this view."""
        self.redraw()

    def draw(self) -> None:
        step = self.step
        place = self._words.part("words").text("place")
        named = place.format(
            lesson=self.lesson, at=self.at + 1, steps=len(self.steps), step=self._words.text(step)
        )
        set_if_changed(self.place, f"<p>{escape(named)}</p>")
        self.go_button.description = self._words.part("go").text(step)
        self.go_button.tooltip = self.go_button.description
        self.go_button.disabled = self.at == len(self.steps) - 1
        self.back_button.disabled = self.at == 0
        staged = step in STAGED
        (self.widget.add_class if staged else self.widget.remove_class)("lv-staged")
        (self.widget.add_class if step == "try" else self.widget.remove_class)("lv-trying")
        show_if(staged, self.picture)
        show_if(not staged, self.board)
        show_if(step == "ask" and not self.answered, self.asking)
        show_if(step in _VOTE and not self.answered, self.vote_box)
        set_if_changed(self.board, "" if staged else self._board())
        set_if_changed(self.summary, self._summary())

    def _summary(self) -> str:
        """What the room said, beside what it waits for."""
        words, number = self._words.part("words"), self.steps[: self.at].count("ask")
        shown = self.step == "ask"
        if self.step not in ("ask", "see", "why") or (shown and not self.answered):
            return ""
        said = self.said[number if shown else number - 1]
        lines = []
        for one in self._asked:
            hands, numbers = room_words(one, said[one.name], self.system)
            parts = "<br>".join(escape(part) for part in (hands, numbers) if part)
            lines.append(f"<p><b>{escape(one.label)}</b><br>{parts}</p>")
        if any(one.kind for one in self._asked):
            lines.append(f"<p>{escape(words.text('locked' if shown else 'said'))}</p>")
        return "".join(lines)

    def _board(self) -> str:
        """The vote or the exit question as HTML: only what belongs to the step shown."""
        if self.step in ("exit", "compare"):
            told, numbers = self._data.part("exit"), demo_numbers(self.system)
            keys = ("question", "compare")[: 1 + (self.step == "compare")]
            texts = [told.template(key, numbers).format(**numbers) for key in keys]
            shown = [f'<p class="lv-asked">{escape(texts[0])}</p>']
            return "".join([*shown, *(f"<p>“{escape(text)}”</p>" for text in texts[1:])])
        options = "".join(f"<li>{escape(text)}</li>" for text in self._options.values())
        question = escape(self._data.part("poll").text("question"))
        asked = f'<p class="lv-asked">{question}</p><ol type="A">{options}</ol>'
        if self.step == "vote":
            return asked
        if self.step == "again":
            return f"{asked}<p>{escape(self._words.part('words').text('talk'))}</p>"
        return asked + self._counted()

    def _counted(self) -> str:
        """Both votes and the right answer; called once the second vote is closed."""
        head = [self._words.part("words").text("letter"), *self._options]
        rows = [
            [self._words.part("words").text(vote), *map(str, self.votes[vote])] for vote in VOTES
        ]
        letter, last = self._data.part("poll").text("right"), self.votes["second"]
        told = self._words.part("words").text("right")
        sentence = told.format(
            letter=letter,
            option=self._options[letter],
            count=last[list(self._options).index(letter)],
            total=sum(last),
        )
        return html_table(head, rows) + f"<p>{escape(sentence)}</p>"

    def go_on(self) -> None:
        """To the next step; what is typed at a question or a vote is locked in first.

        Raises Refusal, and stays, where what is typed cannot be used.
        """
        if self.at == len(self.steps) - 1:
            return
        if self.step in _VOTE and not self.answered:
            letters = tuple(self._options)
            self.votes[_VOTE[self.step]] = read_hands(self.vote_box.value, "vote", letters)
        elif self.step == "ask" and not self.answered:
            self.said.append({one.name: self._read(one) for one in self._asked})
            try:
                self._advance(self.at)
            except Refusal:
                self.said.pop()
                raise
        elif self.steps[self.at + 1] in STAGED:
            self._advance(self.at)
        self._turn_to(self.at + 1)

    def back(self) -> None:
        """To the step before, as it was; what was locked in stays so."""
        if not self.at:
            return
        self._turn_to(self.at - 1)
        if self.step in STAGED:
            self._set_stage()

    def start_over(self) -> None:
        """Forget what the room said and begin with the question."""
        self._begin()
        self._turn_to(0)
        self._set_stage()
        set_if_changed(self.note, escape(self._words.part("words").text("started_over")))

    def say(self, **said: tuple[str, str]) -> None:
        """Type what the room says, from code: say(front=("12, 5, 8", "260, 130"), rear=(…))."""
        for name, texts in said.items():
            for box, text in zip(self.boxes[name].values(), texts, strict=False):
                box.value = text

    def _read(self, one: RoomQuestion) -> RoomSaid:
        boxes = self.boxes[one.name]
        hands = boxes["hands"].value.strip()
        counted = read_hands(hands, one.label, one.ways) if hands or not one.kind else ()
        if not one.kind:
            return RoomSaid(counted)
        called = read_called(boxes["numbers"].value, one.label, one.kind, self.system)
        return RoomSaid(counted, called)

    def _set_stage(self) -> None:
        """A new picture, brought to the step shown by the way the class went."""
        if not self._stage_name:
            return
        self.stage = getattr(panels, self._stage_name)()
        for at in range(self.at):
            self._advance(at)
        self.picture.children = (self.stage.lead(),)

    def _advance(self, at: int) -> None:
        """Bring the picture from a step to the next one."""
        stage, coming = self.stage, self.steps[at + 1]
        if self.steps[at] == "ask":
            said = self.said[self.steps[:at].count("ask")]
            stage.lock_in(
                **{one.name: lock_text(one, said[one.name], self.system) for one in self._asked}
            )
        elif coming == "why":
            stage.explain(WRITTEN)
        elif coming == "try":
            stage.free()
        else:
            stage.go_on()

    def _turn_to(self, at: int) -> None:
        self.at = at
        set_if_changed(self.note, "")
        for box in self._typed():
            set_if_changed(box, "")
        self.redraw()
        self._keep()

    def _typed(self) -> list[w.Text]:
        """Every box that the room's answers are typed into."""
        return [self.vote_box, *(box for each in self.boxes.values() for box in each.values())]

    def _keep(self) -> None:
        """Keep the place, to tell of it after a restart; a class goes on where no file is taken."""
        with suppress(OSError, Refusal):
            keep_work(f"class {self.lesson}", {"at": self.at})

    def _tell_restart(self) -> None:
        """Say so where the class was in the middle of the lesson when Python stopped."""
        before = kept_work(f"class {self.lesson}").get("at")
        if isinstance(before, int) and 0 < before < len(self.steps) - 1:
            told = self._words.part("words").text("restarted")
            sentence = told.format(lesson=self.lesson, at=before + 1)
            set_if_changed(self.note, escape(sentence))
        self._keep()


def class_view(lesson: str) -> ClassView:
    """A lesson on a projector, one question at a time: class_view("02").

    In code: panel.say(front=("12, 5, 8", "260, 130"), …), panel.go_on(), panel.back(),
    panel.start_over(), panel.step, panel.said, panel.votes.
    """
    shared.set(large=True)
    return ClassView(lesson)


class ClassLesson(Panel):
    """A list of lessons, and the class view of the one that is chosen.

    view        the ClassView shown
    """

    def build(self) -> list[w.Widget]:
        label = toml_file("class_view").part("words").text("choose")
        numbers = [f"{number:02d}" for number in lessons()]
        first = "02" if "02" in numbers else numbers[0]
        self.lesson = dropdown(label, numbers, first, on_change=lambda _: self.attempt(self._open))
        self.place = w.Box()
        self._open()
        return [self.lesson, self.place]

    def draw(self) -> None:
        """The view chosen draws itself."""

    def _open(self) -> None:
        self.view = class_view(self.lesson.value)
        self.place.children = (self.view.widget,)


def class_lesson() -> ClassLesson:
    """A lesson to be chosen and led: .lesson, .view."""
    return ClassLesson()
