"""The walk of the fault finder, in the subset that compiles to formulas."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.ratio import measured_ratio, ratio_error
from tanksheet.errors import NotListed
from tanksheet.subset import check, is_error, is_number, nth, rounded, shown
from tanksheet.tables import look_up, rows
from tanksheet.templates.working import BLANK

CHECKS = tuple(row for row in rows("faults") if row["kind"] == "check")
ACTIONS = tuple(row for row in rows("faults") if row["kind"] in ("caution", "stop"))
NONE = "no symptom"
SYMPTOMS = tuple(str(row["step"]) for row in rows("faults") if row["kind"] == "symptom")
YES, NO, UNTRIED = "yes", "no", "not tried"
ANSWERS = (YES, NO, UNTRIED)
BACK = "water running back into the tank"


def both_end(step: str, yes: str, no: str) -> Any:
    """Where a check leads whose two answers are actions; to itself until it is answered."""

    def leads(answer: Any) -> Any:
        check(answer == "" or answer in ANSWERS, "answer yes, no or not tried", NotListed)
        if answer == YES:
            return yes
        return no if answer == NO else step

    return leads


def yes_ends(step: str, yes: str) -> Any:
    def leads(answer: Any, no_leads: Any) -> Any:
        check(answer == "" or answer in ANSWERS, "answer yes, no or not tried", NotListed)
        if answer == YES:
            return yes
        return no_leads if answer == NO else step

    return leads


def no_ends(step: str, no: str) -> Any:
    def leads(answer: Any, yes_leads: Any) -> Any:
        check(answer == "" or answer in ANSWERS, "answer yes, no or not tried", NotListed)
        if answer == YES:
            return yes_leads
        return no if answer == NO else step

    return leads


def goes_on(step: str) -> Any:
    def leads(answer: Any, yes_leads: Any, no_leads: Any) -> Any:
        check(answer == "" or answer in ANSWERS, "answer yes, no or not tried", NotListed)
        if answer == YES:
            return yes_leads
        return no_leads if answer == NO else step

    return leads


def itself(leads: Any) -> Any:
    return leads


def place_of(symptom: Any) -> Any:
    """The symptom's place in the list; 0 for none."""
    return 0 if symptom == NONE else look_up("faults", "place", symptom)


def found_of(place: Any, ends: Any) -> Any:
    """The step at which the answers end: a check to try, or an action."""
    return nth(ends, place) if place > 0 else ""


def next_check(found: Any) -> Any:
    """The check to try next, in full, with what confirms it; or the action."""
    if is_error(found):
        return ""
    if found == "":
        return "Choose a symptom above; then try the check that this line names."
    if look_up("faults", "kind", found) == "check":
        words = look_up("faults", "words", found)
        return f"{found}: {words}"
    words = look_up("faults", "words", found)
    return f"Found: {words}."


def confirms(found: Any) -> Any:
    if is_error(found):
        return ""
    if found == "":
        return ""
    words = look_up("faults", "confirms", found)
    if look_up("faults", "kind", found) == "check":
        return f"Confirmed by: {words}"
    return f"To do: {words}."


def fault_verdict(symptom: Any, found: Any) -> Any:
    if is_error(symptom):
        return "not given: what you see; choose a symptom from the list"
    if is_error(found):
        return "stop: mend the answer that is neither yes nor no; its note says which"
    if found == "":
        return "not used: no symptom is chosen"
    words = look_up("faults", "words", found)
    if look_up("faults", "kind", found) != "check":
        kind = look_up("faults", "kind", found)
        cure = look_up("faults", "confirms", found)
        return f"{kind}: {words}; {cure}"
    if symptom == BACK:
        return (
            "stop: backflow, stock may reach drinking water; shut supply and tank valve now, tell "
            f"who uses the water, then try check {found}"
        )
    return f"not checked: try check {found} and answer it; it stands in full above the list"


def row_words(step: str) -> Any:
    """Beside a check: whether it is the one to try now, and what is wrong with its answer."""

    def words(answer: Any, found: Any) -> Any:
        if is_error(answer):
            return "stop: type yes or no"
        if answer == "" or answer in ANSWERS:
            if is_error(found):
                return ""
            return "try this now" if found == step else ""
        return "stop: type yes or no"

    return words


def tile_step(overall: Any, found: Any) -> Any:
    if is_error(overall) or is_error(found) or found == "":
        return ""
    return found if look_up("faults", "kind", found) == "check" else "see above"


# the drawdown that several checks ask for

FAR_OFF, ALIKE = 10, 5  # percent: common practice, no source


def drawn_ratio(water: Any, stock: Any) -> Any:
    return "" if water == "" or stock == "" else measured_ratio(water, stock)


def drawn_off(found: Any, ratio: Any) -> Any:
    """Percent of feed too much (+) or too little (-) by the drawdown."""
    return ratio_error(found, ratio) if is_number(found) else ""


def drawn_verdict(off: Any) -> Any:
    if is_error(off):
        return BLANK
    if not is_number(off):
        return "not used: no drawdown is typed"
    share = rounded(abs(off), 1)
    way = "more" if off > 0 else "less"
    if share > FAR_OFF:
        return (
            f"not checked: why it draws {shown(share, 1)} % {way} than set; "
            "answer its check so, and go on"
        )
    if share > ALIKE:
        return (
            f"not checked: whether {shown(share, 1)} % {way} than set is real; repeat it twice "
            "before you answer"
        )
    return f"pass: it draws within {shown(ALIKE, 0)} % of what is set"
