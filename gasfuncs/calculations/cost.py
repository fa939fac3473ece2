"""Prices in other units, the gas cost of a load, the price at which two gases cost the same."""

from __future__ import annotations

from typing import Annotated

import numpy as np

from gasfuncs.calculations.conversion import converted, known_kinds
from gasfuncs.calculations.sources import EQUATION_OF_STATE, REFERENCE_CONDITIONS
from gasfuncs.definition import refuse, step, unreachable, worksheet_function
from gasfuncs.definition.terms import Symbol
from gasfuncs.definition.vocabulary import (
    Amount,
    Fraction,
    GasArgument,
    LiquidAt,
    Money,
    Price,
    Ratio,
    TankPressure,
    UnitText,
)
from gasfuncs.errors import GasFuncsError, UnitError
from gasfuncs.units import ATMOSPHERE, NORMAL, kinds, shown, split_goods

BOUGHT_BY = (kinds.AMOUNT, kinds.MASS, kinds.LIQUID, kinds.VOLUME)

COST_ACCOUNTING = "Cost accounting: quantity times price, fixed costs shared by the loads"


def _quantity(text: str, argument: str) -> tuple[float, str]:
    """The number and the unit in "100 scf", which must be one that gas is bought by."""
    number, unit = count_and_unit(text, argument)
    kind = known_kinds(unit, argument)[0]
    if kind not in BOUGHT_BY:
        raise UnitError(
            f'"{shown(unit)}" is a unit of {kind.name}, and no gas is bought by it; write a '
            'quantity of gas, its mass or its liquid, as "100 scf", "kg" or "gal(liq)"',
            argument,
        )
    return number, unit


def count_and_unit(text: str, argument: str) -> tuple[float, str]:
    """The number and the unit in "100 scf"; a bare unit is one of it."""
    try:
        number, unit = split_goods(text) if text[:1].isdigit() else (1.0, text)
    except GasFuncsError as error:
        raise error.about(argument) from None
    if not unit or number <= 0:
        raise UnitError(
            f'"{shown(text)}" is not a quantity to buy by; write "kg" or "100 scf"', argument
        )
    return number, unit


@worksheet_function(
    equation="c₂ = c₁ · (quantity of c₂ in the unit of c₁) / (quantity of c₁)",
    sources=(
        "NIST SP 811 (2008), Appendix B: factors to SI",
        REFERENCE_CONDITIONS,
        EQUATION_OF_STATE,
    ),
    example=('GAS_PRICE(0.62, "100 scf", "gal(liq)", "nitrogen")', "0.5757"),
    cautions=(
        "A litre of liquid is an amount only with its state: a price a gallon is for liquid at its "
        "boiling point at 1 atm, unless the contract says otherwise.",
    ),
)
def price(
    price: Annotated[Price, Symbol("c₁")],
    per_unit: Annotated[
        UnitText,
        Symbol("unit of c₁"),
        'Unit that the price is for; it may have a number, "100 scf"',
    ],
    to_unit: Annotated[
        UnitText, Symbol("unit of c₂"), 'Unit wanted; it may have a number, "1000 gal(liq)"'
    ],
    gas: Annotated[
        GasArgument | None, "Gas, where amount, mass or liquid become one another"
    ] = None,
    tank_pressure: TankPressure = ATMOSPHERE,
    liquid_at: LiquidAt | None = None,
) -> Annotated[Price, "Price for the unit wanted"]:
    """A price for one unit of gas as the price for another unit.

    Takes the tank's pressure in Pa and a LiquidState, scalars or arrays. Raises UnitError where
    the units do not go together, UnreadableError where the gas is missing.
    """
    count, unit = _quantity(per_unit, "per_unit")
    count_wanted, unit_wanted = _quantity(to_unit, "to_unit")
    state = (tank_pressure, liquid_at)
    bought = converted(count_wanted, unit_wanted, unit, gas, state, ("to_unit", "per_unit"))
    step(f"{shown(to_unit)} in {shown(unit)}", "q", bought)
    return price * bought / count


@worksheet_function(
    equation="C = c · n / (1 - loss) + fixed / loads",
    sources=(COST_ACCOUNTING,),
    example=("GAS_LOAD_COST(48, 1.35, 0.05, 620, 40)", "83.71"),
)
def load_cost(
    amount: Annotated[Amount, "Gas that the load uses"],
    price: Annotated[Price, "Price of 1 Nm3; of the same unit where the amount is a bare number"],
    loss: Annotated[Fraction, "Share of the gas bought that is lost before it is used"] = 0.0,
    monthly_fixed: Annotated[Money, "Rental, delivery and other fixed costs a month"] = 0.0,
    loads_per_month: Annotated[Ratio, "Loads a month that share the fixed costs"] = 1.0,
) -> Annotated[Money, "Gas cost of a load"]:
    """Cost of the gas of one load, with what is lost and its share of the fixed costs.

    Takes mol and a price a normal cubic metre of ideal gas, scalars or arrays. Raises
    OutOfRangeError where all is lost or no load shares the fixed costs.
    """
    refuse(np.greater_equal(loss, 1), "loss", "is 100 %: nothing is left to use")
    refuse(np.less_equal(loads_per_month, 0), "loads_per_month", "must be above 0")
    used = amount / NORMAL.ideal_molar_density()
    bought = used / (1 - loss)
    fixed = monthly_fixed / loads_per_month
    step("gas bought for the load", "n / (1 - loss)", bought, "Nm³")
    step("cost of that gas", "c · n / (1 - loss)", price * bought)
    step("share of the fixed costs", "fixed / loads", fixed)
    return price * bought + fixed


@worksheet_function(
    equation="c_b = (c_a · n_a - extra) / n_b",
    sources=(COST_ACCOUNTING,),
    example=("GAS_PRICE_PARITY(48, 1.35, 46.5, 12)", "1.135"),
    cautions=(
        "Equal cost does not make the gases equal: nitrogen forms nitrides on titanium and some "
        "stainless steels and superalloys; ask a metallurgist.",
    ),
)
def price_parity(
    amount_a: Annotated[Amount, Symbol("n_a"), "Gas a that a load uses"],
    price_a: Annotated[
        Price, Symbol("c_a"), "Price of 1 Nm3 of gas a; or of the unit of bare amounts"
    ],
    amount_b: Annotated[Amount, Symbol("n_b"), "Gas b that the same load uses"],
    extra_b: Annotated[Money, "What else the load costs more with gas b"] = 0.0,
) -> Annotated[Price, "Price of gas b at which the load costs the same"]:
    """Price of gas b at which a load costs the same as with gas a.

    Takes mol and a price a normal cubic metre of ideal gas, scalars or arrays. Raises
    NoSolutionError where the load costs more with gas b even if that were free.
    """
    refuse(np.less_equal(amount_b, 0), "amount_b", "must be above 0")
    volume_a = amount_a / NORMAL.ideal_molar_density()
    volume_b = amount_b / NORMAL.ideal_molar_density()
    left = price_a * volume_a - extra_b
    step("cost of gas a", "c_a · n_a", price_a * volume_a)
    step("what gas b may cost", "c_a · n_a - extra", left)
    unreachable(
        np.less(left, 0), "extra_b", "is more than gas a costs: even free gas b would cost more"
    )
    return left / volume_b
