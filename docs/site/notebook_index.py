"""The page that lists the notebooks: from the first evening to sweeps, each with its question."""

#: What each answers, in the order in which a patrol would come to it.
QUESTIONS = {
    "the_first_evening": "From a data sheet, a tape and scales to a spring, and what another evening is worth.",
    "first_hour": "The demo bike step by step, linkage to readings: is the spring wrong, or only its preload?",
    "five_readings_and_a_spring": "Is a new spring worth its money, which one, and how to know that it was right.",
    "a_spring_on_the_press": "A spring pressed on a scale: its rate, and what that says of the label.",
    "will_the_spring_last": "Stress, set and fatigue of a coil, and what a lighter one costs in life.",
    "one_fork_three_ways": "Stiffer springs or a few millimetres of oil: steel, air and gas in a fork leg.",
    "a_long_descent": "Gas that warms on the way down: sag that goes, reserve that comes, and how sure both are.",
    "a_longer_link": "A link that is 4 mm longer, what it does, and a link of one's own that does what is wanted.",
    "pivots_from_a_photograph": "Pivots read off pictures: how sure the motion ratio is then.",
    "brake_and_chain": "Anti-rise, anti-squat, how tight the chain gets, and the friction of a braked fork.",
    "whole_bike": "Rake, trail, ride height, rough roads and landings of both ends together.",
    "tyres_and_trail": "The rate of a tyre from scales and a ruler, and which setting gives a trail that is wanted.",
    "a_front_on_links": "A leading link in place of a fork: rake, trail and motion ratio over the travel.",
    "a_hundred_thousand_links": "A sweep over the whole design space of a linkage: what can be had, and at what price.",
}


def page(notebooks: dict[str, str]) -> str:
    """Write the page from the notebooks' texts by name; one without a question above stands last."""
    order = [name for name in QUESTIONS if name in notebooks]
    order += sorted(set(notebooks) - set(QUESTIONS))
    titles = {
        name: next(line[4:] for line in notebooks[name].splitlines() if line.startswith("# # ")) for name in order
    }
    rows = [f"| [{titles[name]}]({name}.py) | {QUESTIONS.get(name, '')} |" for name in order]
    return "\n\n".join(
        [
            "# Notebooks",
            "Each answers one question; what is shown was computed as this site was built.",
            "\n".join(["| notebook | what it answers |", "|---|---|", *rows]),
            "```{toctree}\n:hidden:\n\n" + "\n".join(order) + "\n```\n",
        ]
    )
