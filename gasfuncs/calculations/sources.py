"""Sources that several calculations rest on."""

EQUATION_OF_STATE = (
    "CoolProp (Bell, Wronski, Quoilin, Lemort, Ind. Eng. Chem. Res. 53, 2014), with the reference "
    "equations of state: argon Tegeler, Span, Wagner 1999; nitrogen Span et al. 2000; helium "
    "Ortiz Vega et al.; hydrogen Leachman et al. 2009; oxygen Schmidt, Wagner 1985; air Lemmon et "
    "al. 2000; carbon dioxide Span, Wagner 1996; mixtures by the GERG-2008 mixing rules"
)
REFERENCE_CONDITIONS = (
    "Reference conditions: DIN 1343 (0 °C, 101.325 kPa), ISO 13443 (15 °C, 101.325 kPa), "
    "US industrial-gas base (70 °F, 14.696 psia); volumes are of the real gas"
)
MASS_BALANCE = "Mass balance of a closed vessel"
