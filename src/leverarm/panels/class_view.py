"""A lesson in front of a class: one question at a time, the room's predictions tallied.

Each step shows what belongs to it and nothing that comes later: the stage of the lesson, then its
show of hands, then its exit question.  Going back shows an earlier step as it was, with what was
locked in; nothing can be said twice.  What the room said is kept in a file, and a page that is
opened again begins with the question and offers to go on where the class was.
"""

from html import escape
from typing import Any

import ipywidgets as w

from leverarm import panels
from leverarm.data import lessons, toml_file
from leverarm.exercises.room import (
    WORDS,
    RoomQuestion,
    RoomSaid,
    lock_text,
    read_called,
    read_hands,
    read_reason,
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
from leverarm.panels.class_work import (
    VOTE_OF,
    ClassWork,
    keep_class,
    kept_class,
)
from leverarm.panels.controls import text_box
from leverarm.panels.solve_reaction import solve_reaction
from leverarm.panels.written import demo_numbers
from leverarm.quantities import Refusal

# The stage of each lesson and its steps: "ask" is locked in by the room, "see" shows what comes.
ONE_QUESTION = "ask see why care try"
STAGES = {
    "01": ("plank_stage", "ask ask see see ask see see why care try"),
    "02": ("tractor_stage", ONE_QUESTION),
    "03": ("pivot_stage", "ask board see why care try solve"),
    "04": ("strip_stage", ONE_QUESTION),
    "05": ("yard_stage", ONE_QUESTION),
    "06": ("sure_stage", "ask weigh more band see why care try"),
    "07": ("claim_stage", ONE_QUESTION),
    "08": ("arms_stage", ONE_QUESTION),
    "09": ("ballast_stage", ONE_QUESTION),
    "10": ("tire_stage", ONE_QUESTION),
    "11": ("lead_stage", ONE_QUESTION),
    "12": ("setups_stage", ONE_QUESTION),
}
STAGED = ("ask", "board", "weigh", "more", "band", "see", "why", "care", "try")
# Where the picture's own controls are there to be used.
HANDS_ON = ("board", "try")
# How many more days a step of the repeated weigh day weighs.
DAYS_MORE = {"weigh": 1, "more": 10}
# What the class wrote stays with the class; the stage only has to know that it was written.
WRITTEN = "Written by the class."


class ClassView(Panel):
    """A lesson, step by step.

    lesson      its number as text
    steps       the kind of each step, a name in data/class_view.toml: ask, see, why, …
    at          the place of the step shown
    said        for each question locked in, what the room said, by the name the stage gives it
    votes       the hands for each letter, "first" and "second" vote
    drawn       the free body that the class put on the board, as lines of text; "" for none yet
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
        self._before = 0
        super().__init__()
        self.widget.add_class("lv-class")
        self.attempt(self._set_stage)
        self.attempt(self._tell_restart)

    def _begin(self) -> None:
        self.at = 0
        self.said: list[dict[str, RoomSaid]] = []
        self.votes: dict[str, tuple[int, ...]] = {}
        self.drawn = ""
        self.stage: Any = None
        self.solving: Panel | None = None

    def build(self) -> list[w.Widget]:
        words = self._words.part("words")
        self.back_button = button(words.text("back"), lambda: self.attempt(self.back))
        self.go_button = button(words.text("next"), lambda: self.attempt(self.go_on), primary=True)
        self.over_button = button(words.text("start_over"), lambda: self.attempt(self.start_over))
        self.resume_button = button("", lambda: self.attempt(self.resume))
        self.fill_button = button(words.text("fill"), lambda: None)
        for made, name in (
            (self.back_button, "lv-backward"),
            (self.go_button, "lv-forward"),
            (self.fill_button, "lv-fill"),
        ):
            made.add_class(name)
        self.place, self.note, self.summary = html(), html("", "lv-say"), html()
        self.boxes = {one.name: self._boxes(one) for one in self._asked}
        self.vote_box = text_box(
            words.text("votes").format(letters=", ".join(self._options)),
            placeholder=words.text("votes_hint").format(example=_example(len(self._options))),
        )
        self.asking = row(*(box for boxes in self.boxes.values() for box in boxes.values()))
        self.asking.add_class("lv-asking")
        moves = row(
            self.back_button,
            self.go_button,
            self.resume_button,
            self.over_button,
            self.fill_button,
            self.place,
        )
        side = w.VBox([self.note, self.asking, self.vote_box, self.summary, moves])
        side.add_class("lv-class-side")
        self.picture, self.board, self.desk = w.VBox(), html("", "lv-class-board"), w.VBox()
        return [self.picture, self.board, self.desk, side]

    def _boxes(self, one: RoomQuestion) -> dict[str, w.Text]:
        words, ways = self._words.part("words"), ", ".join(one.ways)
        names = {"hands": words.text("hands_hint").format(example=_example(len(one.ways)))}
        if one.kind == WORDS:
            names = {"words": words.text("words_hint")}
        elif one.kind:
            names["numbers"] = words.text("numbers_hint")
        made = {}
        for name, hint in names.items():
            label = words.text(f"{name}_plain" if name == "numbers" and one.plain else name)
            made[name] = text_box(label.format(label=one.label, ways=ways), placeholder=hint)
        return made

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
        if self.step == "board":
            return bool(self.drawn)
        return VOTE_OF.get(self.step, "") in self.votes

    def follow_shared(self) -> None:
        """Follow the units.  The type is large in any case, by the rules of this view."""
        self.redraw()

    def draw(self) -> None:
        step, words = self.step, self._words.part("words")
        named = words.text("place").format(
            lesson=self.lesson, at=self.at + 1, steps=len(self.steps), step=self._words.text(step)
        )
        set_if_changed(self.place, f"<p>{escape(named)}</p>")
        names = self._words.part("go")
        self.go_button.description = (
            names.text(step) if step in names and not self.answered else words.text("next")
        )
        self.go_button.tooltip = self.go_button.description
        self.go_button.disabled = self.at == len(self.steps) - 1
        self.back_button.disabled = self.at == 0
        self.resume_button.description = words.text("resume").format(at=self._before + 1)
        staged = step in STAGED
        for name, on in (
            ("lv-staged", staged),
            ("lv-trying", step in HANDS_ON),
            ("lv-caring", step == "care"),
        ):
            (self.widget.add_class if on else self.widget.remove_class)(name)
        show_if(staged, self.picture)
        show_if(step == "solve", self.desk)
        show_if(not staged and step != "solve", self.board)
        show_if(step == "ask" and not self.answered, self.asking)
        show_if(step in VOTE_OF and not self.answered, self.vote_box)
        show_if(bool(self._before), self.resume_button, self.note)
        show_if(bool(self.note.value), self.note)
        set_if_changed(self.board, "" if staged or step == "solve" else self._board())
        set_if_changed(self.summary, self._summary())

    def _summary(self) -> str:
        """What the room said, beside what it waits for."""
        words, number = self._words.part("words"), self.steps[: self.at].count("ask")
        shown = self.step == "ask"
        if self.step not in ("ask", "see", "why") or (shown and not self.answered):
            return ""
        said = self.said[number if shown else number - 1]
        cells = []
        for one in self._asked:
            hands, numbers = room_words(one, said[one.name], self.system)
            parts = "<br>".join(escape(part) for part in (hands, numbers) if part)
            cells.append(f"<p><b>{escape(one.label)}</b> {parts}</p>")
        told = "locked" if shown else ""
        if not shown and any(said[one.name].numbers for one in self._asked):
            told = "said"
        under = f"<p>{escape(words.text(told))}</p>" if told else ""
        return f'<div class="lv-said">{"".join(cells)}</div>{under}'

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
            [self._words.part("words").text(vote), *map(str, self.votes[vote])]
            for vote in VOTE_OF.values()
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
        if self.step in VOTE_OF and not self.answered:
            letters = tuple(self._options)
            self.votes[VOTE_OF[self.step]] = read_hands(self.vote_box.value, "vote", letters)
        elif self.step == "ask" and not self.answered:
            self.said.append({one.name: self._read(one) for one in self._asked})
            try:
                self._advance(self.at)
            except Refusal:
                self.said.pop()
                raise
        elif self.step == "board" and not self.answered:
            # The board says itself what does not hold yet; once it is right the lesson goes on.
            self.stage.check()
            self._follow_board()
            return
        elif self.steps[self.at + 1] in STAGED:
            self._advance(self.at)
        self._turn_to(self.at + 1)

    def _follow_board(self) -> None:
        """Go on once the free body on the board was right, or was shown."""
        if self.step == "board" and not self.drawn and self.stage.solved:
            self.drawn = self.stage.drawing
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
        self._tell("started_over")

    def resume(self) -> None:
        """Go on where the class was before this page was opened again, with what it had said."""
        before = self._kept()
        if not before:
            return
        self._begin()
        self.said, self.votes, self.drawn = list(before.said), dict(before.votes), before.drawn
        self._turn_to(before.at)
        self._set_stage()
        self._tell("resumed")

    def _tell(self, name: str, **told: object) -> None:
        """A sentence about the place in the lesson."""
        sentence = self._words.part("words").text(name).format(lesson=self.lesson, **told)
        set_if_changed(self.note, escape(sentence))
        show_if(True, self.note)

    def say(self, **said: tuple[str, ...]) -> None:
        """Type what the room says, from code: say(front=("12, 5, 8", "260, 130"), rear=(…))."""
        for name, texts in said.items():
            for box, text in zip(self.boxes[name].values(), texts, strict=False):
                box.value = text

    def _read(self, one: RoomQuestion) -> RoomSaid:
        boxes = self.boxes[one.name]
        if one.kind == WORDS:
            return RoomSaid(words=read_reason(boxes["words"].value, one.label))
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
        # On the way to the step shown nothing is drawn that nobody sees.
        self.stage.led = True
        if "board" in self.steps:
            self.stage.told.observe(lambda _: self.attempt(self._follow_board), "value")
        for at in range(min(self.at, self._staged_steps - 1)):
            self._advance(at)
        if self.step == "board" and self.drawn:
            self.stage.put_body(self.drawn)
        self.picture.children = (self.stage.lead(),)

    @property
    def _staged_steps(self) -> int:
        """How many steps the picture has; they come first."""
        return sum(step in STAGED for step in self.steps)

    def _advance(self, at: int) -> None:
        """Bring the picture from a step to the next one."""
        stage, step, coming = self.stage, self.steps[at], self.steps[at + 1]
        if step == "ask":
            said = self.said[self.steps[:at].count("ask")]
            stage.lock_in(
                **{one.name: lock_text(one, said[one.name], self.system) for one in self._asked}
            )
        elif step == "board":
            if not stage.solved:
                stage.draw_body(self.drawn)
        elif step in DAYS_MORE:
            stage.weigh(DAYS_MORE[step])
        elif step == "band":
            stage.show_band()
        elif coming == "why":
            stage.explain(WRITTEN)
        elif coming == "care":
            stage.free()
        elif coming in ("see", "ask"):
            stage.go_on()

    def _turn_to(self, at: int) -> None:
        self.at, self._before = at, 0
        set_if_changed(self.note, "")
        for box in self._typed():
            set_if_changed(box, "")
        if self.step == "solve" and self.solving is None:
            self.solving = solve_reaction()
            self.desk.children = (self.solving.widget,)
        self.redraw()
        self._keep()

    def _typed(self) -> list[w.Text]:
        """Every box that the room's answers are typed into."""
        return [self.vote_box, *(box for each in self.boxes.values() for box in each.values())]

    def _keep(self) -> None:
        """Keep the place and what was said."""
        work = ClassWork(self.at, tuple(self.said), self.votes, self.drawn)
        keep_class(self.lesson, work)

    def _kept(self) -> ClassWork | None:
        """What was kept of a class in the middle of this lesson."""
        return kept_class(self.lesson, self.steps, self._asked, len(self._options))

    def _tell_restart(self) -> None:
        """Say so where the class was in the middle of the lesson when Python stopped."""
        before = self._kept()
        if before:
            self._before = before.at
            self._tell("restarted", at=self._before + 1)
            self.redraw()


def _example(ways: int) -> str:
    """Counts of hands as they are typed, for so many ways."""
    return ", ".join(map(str, (12, 5, 8, 2, 3, 1)[:ways]))


def class_view(lesson: str) -> ClassView:
    """A lesson on a projector, one question at a time: class_view("02").

    In code: panel.say(front=("12, 5, 8", "260, 130"), …), panel.go_on(), panel.back(),
    panel.start_over(), panel.step, panel.said, panel.votes.
    """
    shared.set(large=True)
    return ClassView(lesson)
