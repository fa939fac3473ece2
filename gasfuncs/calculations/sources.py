"""Sources that several calculations rest on."""

from gasfuncs.properties import SUBSTANCES

EQUATION_OF_STATE = (
    "CoolProp (Bell, Wronski, Quoilin, Lemort, Ind. Eng. Chem. Res. 53, 2014), with the reference "
    f"equations of state: {'; '.join(f'{each.name} {each.equation}' for each in SUBSTANCES)}; "
    "mixtures by the GERG-2008 mixing rules"
)
REFERENCE_CONDITIONS = (
    "Reference conditions: DIN 1343 (0 °C, 101.325 kPa), ISO 13443 (15 °C, 101.325 kPa), "
    "US industrial-gas base (70 °F, 14.696 psia); volumes are of the real gas"
)
MASS_BALANCE = "Mass balance of a closed vessel"
