"""What a person does at a panel, by keyboard alone: press, choose, type, predict and lock in."""

import re

from lab import CURRENT

from leverarm.exercises import make

PANEL = ".lv-panel:not(.lv-begin)"
LOCK_IN = "Lock in my prediction"
CAN_LOCK_IN = f'button:enabled:visible:text-is("{LOCK_IN}")'

ROUND_TRIP = (
    f"async () => {{ await {CURRENT}.sessionContext.session.kernel.requestExecute({{code: "
    f"'', silent: true}}).done; }}"
)
TWO_FRAMES = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"


def rest(page):
    """Wait until Python has done what it was asked before, and the page has drawn it."""
    page.evaluate(ROUND_TRIP)
    page.evaluate(TWO_FRAMES)


def press(button):
    """Press a button."""
    button.focus()
    button.page.keyboard.press("Enter")


def choose(place, group, name):
    """Choose a radio button of a named group."""
    place.get_by_role("radiogroup", name=group, exact=True).get_by_role(
        "radio", name=name, exact=True
    ).focus()
    place.page.keyboard.press("Space")


def write(place, label, text):
    """Type into a named box in place of what stands there, and leave it."""
    box = place.get_by_role("textbox", name=label, exact=True)
    box.focus()
    place.page.keyboard.press("ControlOrMeta+a")
    place.page.keyboard.type(text)
    place.page.keyboard.press("Tab")


def answer(panel, problem, text):
    """Give an answer to an exercise in the field it has, and check it."""
    if problem.style == "body":
        answer_body(panel, text)
    elif problem.style == "choice":
        choose(panel, "Your answer", f"{text}: {dict(problem.options)[text]}")
    else:
        panel.get_by_role("textbox", name=re.compile("^Your answer")).focus()
        panel.page.keyboard.press("ControlOrMeta+a")
        panel.page.keyboard.type(text)
        panel.page.keyboard.press("Enter")
        return
    press(panel.get_by_role("button", name="Check", exact=True))


def answer_body(panel, text):
    """Put a free body on the board from its list, by keys, as its lines say."""

    def pick(label, value):
        return panel.get_by_label(label, exact=True).select_option(label=value)

    arms = []
    for name, _, value in (line.partition(": ") for line in text.splitlines()):
        if name in ("body", "pivot"):
            pick({"body": "Cut free", "pivot": "Pivot"}[name], value)
        elif name.startswith("arm "):
            arms.append((name.removeprefix("arm "), value))
        else:
            letter, way, _, place = name.split(" ", 3)
            press(panel.locator(f"button.st-arrow[data-letter={letter}]"))
            pick(f"{letter} acts at", place)
            turn = panel.get_by_role("button", name=f"Turn {letter} to point {way}")
            if turn.count():
                press(turn)
    # An arm has its box only once the arrow and the pivot are there.
    for letter, value in arms:
        write(panel, f"Arm of {letter}, from the pivot", value)


def example_of(box):
    """The first example a box gives of what may be typed there."""
    return re.search("such as (.+?)(?: or |$)", box.get_attribute("placeholder")).group(1)


def lock_in(panel, told=()):
    """Lock in a direction and an amount for each question: told, {question: (way, amount)}, or up
    by the box's own example.
    """
    for box in panel.get_by_role("textbox", name=re.compile("by how much")).all():
        question = box.evaluate("box => box.labels[0].textContent").split(", by how much")[0]
        way, amount = dict(told).get(question, ("up", example_of(box)))
        choose(panel, question, way)
        write(panel, f"{question}, by how much?", amount)
    press(panel.locator(CAN_LOCK_IN))
    panel.get_by_role("button", name="Show the readings").wait_for()


def reveal(panel):
    """Open what was kept back until the prediction stood."""
    press(panel.get_by_role("button", name="Show the readings"))
    panel.get_by_role("button", name="New prediction").wait_for()
    rest(panel.page)


def predict(panel, told=()):
    """Lock in, and open what was kept back."""
    lock_in(panel, told)
    reveal(panel)


def lock_in_number(panel, text=None):
    """Lock in one number to a question in the middle of a lesson."""
    box = panel.get_by_role("textbox", name="Your prediction", exact=True)
    write(panel, "Your prediction", text or example_of(box))
    press(panel.locator(CAN_LOCK_IN))
    panel.get_by_text("You predicted").wait_for()
    rest(panel.page)


def say_on_stage(stage, said):
    """Type a change into the box of each scale of a stage, and lock in; a prediction kept from
    before is taken back first.
    """
    again = stage.get_by_role("button", name="New prediction")
    if again.count() and again.is_visible():
        press(again)
        stage.get_by_role("button", name="Lock in", exact=True).wait_for()
    for name, text in said.items():
        box = stage.locator(f"input[type=text][data-moves={name}]")
        box.focus()
        stage.page.keyboard.press("ControlOrMeta+a")
        stage.page.keyboard.type(text)
        stage.page.keyboard.press("Tab")
    press(stage.get_by_role("button", name="Lock in", exact=True))
    stage.get_by_label("What did you see?").wait_for()


def read_why(stage, sentence):
    """Write what was seen, read why, and free the picture."""
    stage.get_by_label("What did you see?").fill(sentence)
    press(stage.get_by_role("button", name="Show why"))
    press(stage.get_by_role("button", name="Now move it"))
    rest(stage.page)


def go_through(stage, patience=20):
    """Say something at every question of a stage, read every answer, and free the picture."""
    page = stage.page
    for _ in range(patience):
        lock = stage.locator("button[data-enter]:visible")
        move = stage.get_by_role("button", name="Now move it")
        piles = stage.locator("button[aria-pressed]:visible")
        if stage.locator(".st-rack:visible").count():
            answer_body(stage, make("body_bucket", 1).answer)
            press(stage.get_by_role("button", name="Check", exact=True))
            stage.get_by_label("What did you see?").wait_for()
        elif piles.count():
            groups = stage.locator("[role=group]:visible:has(button[aria-pressed])")
            for group in groups.all():
                press(group.locator("button[aria-pressed]").first)
            if not groups.count():
                press(piles.first)
            for box in stage.locator("input[type=text][data-known]:visible").all():
                box.fill("+10")
                box.press("Tab")
            sentence = stage.locator("textarea:visible")
            if sentence.count():
                sentence.fill("It sounds right.")
            press(stage.get_by_role("button", name="Lock in", exact=True))
        elif lock.count():
            for box in stage.locator("input[type=text][data-known]:visible").all():
                box.fill("+10")
                box.press("Tab")
            press(lock)
        elif stage.locator("textarea:visible").count():
            stage.locator("textarea:visible").fill("The readings changed.")
            press(stage.get_by_role("button", name="Show why"))
        elif move.count() and move.is_visible():
            press(move)
            rest(page)
            return
        elif stage.locator("button[data-next]:visible").count():
            press(stage.locator("button[data-next]:visible").first)
        elif stage.locator("input[type=range]:visible").count():
            return
        page.wait_for_timeout(1200)
    raise AssertionError("the stage asks on and on")


def open_stages(page):
    """Go through every stage of the page but one that the class view leads."""
    stages = page.locator(".st-here:not(.lv-class .st-here)")
    for stage in (stages.nth(at) for at in range(stages.count())):
        go_through(stage)


def open_all(page):
    """Lock in a prediction in every panel that waits for one."""
    open_stages(page)
    panels = page.locator(PANEL)
    for panel in (panels.nth(at) for at in range(panels.count())):
        if panel.locator(CAN_LOCK_IN).count():
            (
                predict
                if panel.get_by_role("textbox", name=re.compile("by how much")).count()
                else lock_in_number
            )(panel)
