"""Monthly gas use: tanks, prices, readings, tickets, and what was reported."""

from __future__ import annotations

from gasfuncs.workbooks.sheets.parts import Column, Rule, Table, helper, made
from gasfuncs.workbooks.sheets.standard import (
    GASES,
    VALID_FROM,
    nth_new,
    valid_from,
    version_of,
)

TANKS = Table(
    "Tanks",
    (
        Column("Tank", prompt="Its name in this book, for example N2 tank"),
        VALID_FROM,
        Column("Gas", choices=GASES, prompt="What it holds or makes"),
        Column(
            "Read as",
            choices=("level", "meter"),
            prompt="level: a tank with its level gauge; meter: a generator or a line with a meter",
            width=9,
        ),
        Column(
            "Capacity",
            "liquid",
            "All that the inner vessel holds, from its data plate; blank for a meter",
            low=0,
            required=False,
        ),
        *valid_from("Tank"),
        helper("New tank", nth_new("Tanks", "Tank")),
        helper("New gas", nth_new("Tanks", "Gas")),
    ),
    heading="Tanks and meters",
    rows=24,
    unique=("Tank", "Valid from"),
)

PRICES = Table(
    "Prices",
    (
        Column("Gas", choices=GASES, prompt="Which gas the price is for"),
        VALID_FROM,
        Column("Price", "price", "The price of the gas as the contract has it", low=0),
        Column("Per", prompt="The unit of that price, for example Nm3, 100 scf, kg, L(liq)"),
        *valid_from("Gas"),
        made("Price as used", "price", "GAS_PRICE({Price},{Per},{unit amount},{Gas})", result=True),
    ),
    heading="Prices",
    rows=40,
    unique=("Gas", "Valid from"),
)

READINGS = Table(
    "Readings",
    (
        Column("Date", "date", "The morning on which it was read"),
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column("Level", "liquid", "Liquid by the level gauge", low=0, required=False),
        Column("Pressure", "gauge", "Tank gauge", low=0, high=40, required=False),
        Column(
            "Meter",
            "amount",
            "The meter's count where there is no tank, for example 51,400",
            low=0,
            required=False,
        ),
        made("Gas", "text", "INDEX({Tanks.Gas},{Tank row})"),
        made("Stock", "amount", "IF({Metered},-{Meter},{In tank})", result=True),
        helper("Tank row", version_of("Tanks", "{Tank}", "{Date}")),
        helper("Metered", 'INDEX({Tanks.Read as},{Tank row})="meter"', number="general"),
        helper("Size", "INDEX({Tanks.Capacity},{Tank row})", "liquid"),
        helper("Bar", "{Pressure as bar(a)}"),
        helper(
            "In tank",
            'GAS_TANK_STOCK({Gas},{Level as L(liq)},{Size as L(liq)},{Bar},"","",{unit amount})',
            "amount",
        ),
        helper("One", 'GAS_LEVEL_CHANGE({Gas},"1 "&{unit amount},{Bar},"",{unit liquid})'),
        helper("Off by", "IF({Metered},0,Level_tolerance/100*{Size}/{One})", "amount"),
    ),
    heading="Readings",
    rows=300,
    log=True,
    rules=(
        Rule(
            "IF({Metered},COUNT({Meter})<1,COUNT({Level},{Pressure})<2)",
            "type level and pressure of a tank, or the count of a meter",
        ),
        Rule("AND(NOT({Metered}),{Level}>{Size})", "the level is above the tank's capacity"),
    ),
    unique=("Date", "Tank"),
)

DELIVERIES = Table(
    "Deliveries",
    (
        Column("Date", "date", "The day of the delivery"),
        Column("Tank", choices="Tanks.Tank", prompt="As on Tanks"),
        Column("Ticket", prompt="Its number, which makes sure that none is typed twice"),
        Column("Quantity", "number", "As printed on the ticket", low=0),
        Column(
            "Unit",
            choices=("L(liq)", "gal(liq)", "kg", "lb", "Nm3", "scf"),
            prompt="The unit printed on the ticket",
            width=9,
        ),
        Column(
            "Liquid at",
            prompt='What the ticket counts: blank for liquid boiling at 1 atm, "{3 absolute} '
            '{unit absolute}" for liquid saturated there, "{-190 temperature} '
            '{unit temperature}" for colder',
            required=False,
        ),
        made("Gas", "text", "INDEX({Tanks.Gas},{Tank row})"),
        made(
            "By ticket",
            "amount",
            'GAS_DELIVERED({Gas},{Quantity}&" "&{Unit},{Liquid at}&"","",{unit amount})',
            result=True,
        ),
        helper("Tank row", version_of("Tanks", "{Tank}", "{Date}")),
        helper("Size", "N(INDEX({Tanks.Capacity},{Tank row}))", "liquid"),
        helper(
            "Fits",
            'IF({Size}=0,"",GAS_FROM_LIQUID({Gas},{Size as L(liq)},"","",{unit amount}))',
            "amount",
        ),
    ),
    heading="Deliveries",
    rules=(
        Rule(
            "AND(COUNT({By ticket},{Fits})=2,{By ticket}>{Fits})",
            "more than the whole tank holds",
        ),
    ),
    rows=500,
    log=True,
    unique=("Tank", "Ticket"),
)

REPORTED = Table(
    "Reported",
    (
        Column("Month", "month", "Any day of the month, for example 1 Sep 2026"),
        Column("Gas", choices=GASES, prompt="The gas that was reported"),
        Column(
            "Unaccounted",
            "amount",
            "What was reported as unaccounted, for example {420 amount}",
            low=-1e9,
        ),
        helper("First", "DATE(YEAR({Month}),MONTH({Month}),1)", "date", number="date"),
        made(
            "Now",
            "amount",
            "IF(COUNTIFS({Balance.Gas},{Gas},{Balance.Month},{First},{Balance.Good},1,"
            '{Balance.Out},0)=0,"",'
            "SUMIFS({Balance.Unaccounted},{Balance.Gas},{Gas},{Balance.Month},{First}))",
        ),
        helper(
            "Changed",
            "IF(ISNUMBER({Now}),IF(ABS({Now}-{Unaccounted})>1+ABS({Unaccounted})/100,1,0),0)",
        ),
    ),
    heading="Reported months",
    rows=60,
    unique=("Month", "Gas"),
)
