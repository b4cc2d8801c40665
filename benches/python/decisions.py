"""What an answer costs a person who waits for it: fit, advice, plan and sheet of the shipped bike.

There is no peer to hold these against, so that the times stand alone, beside the machine that `machine.py` names. The
bike is asked again and again; the study of an end is made anew each time. Run: ``python benches/python/decisions.py``.
"""

from fit import fastest

import wheelrate as wr


def main():
    """Print a row for each answer, in milliseconds."""
    bike = wr.demo()
    asked = {f"advice, {end}": (lambda end=end: bike.advise_end(end), 5) for end in ("front", "rear")}
    asked |= {f"plan, {end}": (lambda end=end: bike.plan_end(end), 1) for end in ("front", "rear")}
    asked |= {"sheet": (bike.sheet, 1), "sheet as HTML": (lambda: bike.sheet().to_html(), 1)}
    print(f"{'one answer':46} {'ms':>8}")
    for name, (ask, repeat) in asked.items():
        print(f"{name:46} {1e3 * fastest(ask, repeat):8.2f}")


if __name__ == "__main__":
    main()
