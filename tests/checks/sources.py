"""The works that numbers of the checks were read in."""

from tests.checks.kinds import Source

ASHRAE = Source("ASHRAE", "Handbook: Fundamentals", 2017, "chapter 1, table 1")
BALMER = Source("R. T. Balmer", "Modern Engineering Thermodynamics", 2011, "example 16.8")
CRANE = Source(
    "Crane Co.", "Flow of Fluids Through Valves, Fittings, and Pipe, Technical Paper 410", 1965,
    "example 4-22, page 4-14",
)  # fmt: skip
DOE = Source(
    "US Department of Energy",
    "Fundamentals Handbook: Thermodynamics, Heat Transfer, and Fluid Flow, DOE-HDBK-1012/1-92",
    1992,
    "HT-01, page 10",
)
EPA = Source(
    "US Environmental Protection Agency", "40 CFR part 1065, Engine-Testing Procedures", 2005,
    "section 1065.602, table 1",
)  # fmt: skip
ESPOSITO = Source("A. Esposito", "Fluid Power with Applications, 6th edition", 2003, "example 13-7")
FIRE_CODE = Source(
    "International Code Council", "International Fire Code", 2018,
    "appendix G, table G101.2, page 540 (gas at 70 °F and 14.7 psia)",
)  # fmt: skip
FIRE_CODE_EXAMPLE = FIRE_CODE.at("appendix G, example G101.2.2 (gas at 70 °F and 14.7 psia)")
GEANKOPLIS = Source(
    "C. J. Geankoplis",
    "Transport Processes and Separation Process Principles (Includes Unit Operations), 4th edition",
    2003,
    "section 1.4A",
)
GUM = Source(
    "JCGM", "Guide to the expression of uncertainty in measurement, JCGM 100", 2008, "example H.1"
)
LEVENSPIEL = Source(
    "O. Levenspiel", "Engineering Flow and Heat Exchange, 3rd edition", 2014, "example 4.2"
)
MIL_OXYGEN = Source(
    "US Department of Defense", "MIL-PRF-27210J, Oxygen, Aviator's Breathing, Liquid and Gas", 2013,
    "3.3.3",
)  # fmt: skip
NACA_1135 = Source(
    "Ames Research Staff", "NACA Report 1135, Equations, Tables, and Charts for Compressible Flow",
    1953, "table I",
)  # fmt: skip
OXFORD = Source(
    "University of Oxford", "Safety policy S4/03, Liquid nitrogen", 2003, "appendix 1 (a)"
)
RAO = Source("Y. V. C. Rao", "Chemical Engineering Thermodynamics", 1997, "example 4.13")
SEMATECH = Source("NIST/SEMATECH", "e-Handbook of Statistical Methods", 2012, "section 6.3.2.2")
SP_811 = Source(
    "A. Thompson, B. N. Taylor", "Guide for the Use of the International System of Units, SP 811",
    2008, "appendix B.8",
)  # fmt: skip
STEVENSON = Source(
    "W. J. Stevenson", "Operations Management, 14th edition", 2021, "chapter 13, example 8"
)
UMRATH = Source("W. Umrath", "Fundamentals of Vacuum Technology", 2016, "equation 1.26")
WHITE = Source("F. M. White", "Fluid Mechanics, 8th edition", 2016, "problem 3.27")
