"""Every check, in the order in which they are told: one row each.

A sentence's braces name what its condition finds. It says what stands in the estimate and what is likely, and asks for
nothing: whoever prices may mean it.
"""

from __future__ import annotations

from estimating.core.checks import access, crews, methods, money, openings, plausible
from estimating.core.checks.case import Check

WARNING, TO_KNOW = "warning", "to_know"
LIKELY = "{title}: {value}. {low} to {high} is likely."

CHECKS = (
    Check(
        "access_out_of_reach",
        WARNING,
        "{marks}: heads up to {head} above grade{storeys}, priced from {access}, which reaches {limit}{rule}.",
        of_work=access.out_of_reach,
        open=True,
    ),
    Check(
        "access_not_rented",
        WARNING,
        "{marks}: priced from {access}, and the edition neither rents nor owns one, so no equipment is in the price.",
        of_work=access.not_rented,
        open=True,
    ),
    Check(
        "access_without_equipment",
        TO_KNOW,
        "Factors for {access}, and no equipment row rents or owns one. Work from it would price no equipment.",
        of_rates=access.priced_not_rented,
    ),
    Check(
        "one_on_stage",
        WARNING,
        "{marks}: a swing stage worked by a crew of one. A stage takes two.",
        of_work=access.alone_on_stage,
        open=True,
    ),
    Check(
        "sides_left_out",
        WARNING,
        "{marks}: {missing} not treated. {kind} takes {needs}.",
        of_work=openings.sides_short,
        open=True,
    ),
    Check(
        "sill_none",
        WARNING,
        "{marks}: drawn with no sill, so none is treated. {kind} is open to water at its sill.",
        of_work=openings.sill_none,
        open=True,
    ),
    Check(
        "no_penetrations",
        TO_KNOW,
        "{openings} and no pipe, duct or vent, and no allowance for any. They are seldom on the schedule.",
        of_work=openings.no_penetrations,
        open=True,
    ),
    Check(
        "tape_over_barrier",
        WARNING,
        "{marks}: {title} over {barrier}. Its row lists {listed}.",
        of_work=methods.tape_over_barrier,
        open=True,
    ),
    Check(
        "lap_short",
        WARNING,
        "The {lap} is {is}. Less than {least} seldom sheds water.",
        of_rates=methods.laps_short,
        open=True,
    ),
    Check(
        "pipe_lap_short",
        WARNING,
        "{marks}: a lap on the pipe of less than {least}.",
        of_work=methods.pipe_laps_short,
        open=True,
    ),
    Check(
        "waste_unlikely",
        WARNING,
        "{title}: waste of {percent} %. More than 1 % and up to 60 % is likely.",
        of_rates=methods.waste_unlikely,
        open=True,
    ),
    Check(
        "one_coat",
        WARNING,
        "{title}: one coat. Fluid flashing takes two.",
        of_rates=methods.one_coat,
        open=True,
    ),
    Check(
        "seal_depth",
        WARNING,
        "A bead {depth} deep in a joint {width} wide. Half the width is usual, from {low} to {high}.",
        of_work=methods.seal_depth,
        open=True,
    ),
    Check(
        "seal_width",
        WARNING,
        "A perimeter joint {width} wide. {low} to {high} is usual.",
        of_work=methods.seal_width,
        open=True,
    ),
    Check(
        "no_journeyman",
        WARNING,
        "The crew has neither a journeyman nor a foreman. Its grades: {grades}.",
        of_work=crews.no_journeyman,
        open=True,
    ),
    Check(
        "more_crews_than_workers",
        WARNING,
        "{crews}, and {workers} in all.",
        of_work=crews.more_crews,
        open=True,
    ),
    Check(
        "not_mobilised",
        WARNING,
        "Mobilisations are 0: no trip to the site is priced.",
        of_work=crews.not_mobilised,
        open=True,
    ),
    Check(
        "new_crew_not_learning",
        WARNING,
        "The crew is new to the work, and the edition prices no learning: it is priced as experienced.",
        of_work=crews.new_and_not_learning,
        open=True,
    ),
    Check(
        "work_date_far",
        WARNING,
        "The work is on {day}, {years} years after the rates of {start}. Wages and prices will have moved.",
        of_work=crews.years_from_edition,
        open=True,
    ),
    Check("no_profit", WARNING, "No profit is in the price: the edition has no profit row, or one of 0.",
          of_rates=money.without_step("profit")),
    Check("no_overhead", WARNING, "No overhead is in the price: the edition has no overhead row, or one of 0.",
          of_rates=money.without_step("overhead")),
    Check("no_burden", WARNING, "{titles}: no burden on the wage, neither payroll taxes nor insurance.",
          of_rates=money.no_burden),
    Check("percentage_unlikely", WARNING, LIKELY, of_rates=money.percentages),
    Check("wage_unlikely", WARNING, LIKELY, of_rates=plausible.wages),
    Check("price_unlikely", WARNING, LIKELY, of_rates=plausible.prices),
    Check("rental_unlikely", WARNING, LIKELY, of_rates=plausible.rentals),
    Check("production_unlikely", WARNING, LIKELY, of_rates=plausible.minutes),
)  # fmt: skip
CHECK = {check.code: check for check in CHECKS}
OPEN = frozenset(check.code for check in CHECKS if check.open)
