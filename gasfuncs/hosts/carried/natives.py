"""What all carried functions share: reading numbers with units in text, gases, and their series.

Formulas here are written plainly: `@x` is a variable, `{units.key}` a place on the hidden sheet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import NamedTuple

from gasfuncs.hosts.carried.native_texts import TEXTS
from gasfuncs.hosts.carried.nodes import own
from gasfuncs.properties.liquids import ROUNDING

PREFIXED = re.compile(
    r"\b(LET|LAMBDA|MAP|ISOMITTED|SEQUENCE|XMATCH|NUMBERVALUE|UNICHAR|T\.INV|T\.DIST|BETA\.INV|BETA\.DIST"
    r"|NORM\.S\.INV)(?=\()"
)
VARIABLE = re.compile(r"@(\w+)")
HELPER = re.compile(r"\bGF_\w+(?=\()")


class Native(NamedTuple):
    """A formula with arguments."""

    arguments: tuple[str, ...]
    body: str


def plain(text: str) -> str:
    """A formula as files have it: newer functions and variables have their prefixes."""
    tight = re.sub(r"\n\s*", "", text)
    prefixed = re.sub(r"\bFILTER(?=\()", "_xlfn._xlws.FILTER", PREFIXED.sub(r"_xlfn.\1", tight))
    return VARIABLE.sub(r"_xlpm.\1_", prefixed)


def _native(arguments: str, body: str) -> Native:
    return Native(tuple(map(own, arguments.split())), plain(body))


def _double(series: str, before: str = "") -> Native:
    """A property of pressure and temperature by its double series."""
    return _native(
        "gas p t",
        f"""LET(@warm,GF_WARM(@gas,@p,@t),IF(ISERROR(@warm),@warm,
        {before}GF_SERIES(CHOOSE(2*@gas-1+@warm,{series}),
        ACOS(2*@p/{{most}}-1),GF_UP(@gas,@t,@warm))))""",
    )


def _cold(series: str) -> Native:
    """A property of liquid between freezing and boiling by its double series."""
    return _native(
        "gas p t",
        f"""LET(@boils,GF_SATURATED(@gas,@p,1),IF(ISERROR(@boils),@boils,
        LET(@freezes,INDEX({{liquids}},@gas,1),@least,INDEX({{liquids}},@gas,2),
        @high,INDEX({{saturated}},@gas,3),@w,SQRT(LN(INDEX({{saturated}},@gas,1)/@p)),
        IF(OR(@t<@freezes,@t>@boils*(1+{ROUNDING:.9f}),@w<@least),#NUM!,
        GF_SERIES(CHOOSE(@gas,{series}),ACOS((2*@w-@least-@high)/(@high-@least)),
        ACOS(1-2*SQRT(MAX(0,MIN(1,(@boils-@t)/(@boils-@freezes))))))))))""",
    )


def _replaced(text: str, pairs: Mapping[str, str]) -> str:
    for old, new in pairs.items():
        text = f'SUBSTITUTE({text},{old},"{new}")'
    return text


MARKS = {
    '" "': "", '"·"': "", '"*"': "", '"."': "", '"^"': "", '"³"': "3", '"²"': "2", '"₂"': "2",
    '"°"': "deg", "UNICHAR(181)": "u", "UNICHAR(956)": "u",
}  # fmt: skip
SPACES = {
    "UNICHAR(8722)": "-", "UNICHAR(160)": " ", "UNICHAR(8239)": " ", "UNICHAR(9)": " ",
    "UNICHAR(10)": " ",
}  # fmt: skip
NINES = {f'"{each}"': "9" for each in "012345678.,"}

NATIVES: dict[str, Native] = {
    "GF_LOG1P": _native("x", "LET(@u,1+@x,IF(@u=1,@x,LN(@u)*@x/(@u-1)))"),
    "GF_EXPM1": _native("x", "LET(@u,EXP(@x),IF(@u=1,@x,IF(@u-1=-1,-1,(@u-1)*@x/LN(@u))))"),
    # Student's t of degrees of freedom that may be no whole number, which T.INV cuts off.
    "GF_T_INVERSE": _native(
        "freedom p",
        """IF(@freedom=INT(@freedom),T.INV(@p,@freedom),
        SIGN(@p-0.5)*SQRT(@freedom*(1/BETA.INV(2*MIN(@p,1-@p),@freedom/2,0.5)-1)))""",
    ),
    "GF_T_CHANCE": _native(
        "freedom t",
        """IF(@freedom=INT(@freedom),T.DIST(@t,@freedom,TRUE),
        LET(@tail,BETA.DIST(@freedom/(@freedom+@t^2),@freedom/2,0.5,TRUE)/2,
        IF(@t<0,@tail,1-@tail)))""",
    ),
    # A text without signs of its own: the minus sign and the spaces that people paste.
    "GF_TIDY": _native("x", f"TRIM({_replaced('@x', SPACES)})"),
    # How many characters at the start are digits, points and commas.
    "GF_RUN": _native(
        "s",
        f"LET(@t,{_replaced('@s', NINES)},@n,LEN(@t),IF(@n=0,0,"
        'SUMPRODUCT(--(LEFT(@t,SEQUENCE(@n))=REPT("9",SEQUENCE(@n))))))',
    ),
    # How many characters of a tidy text are its number, 0 where it starts with none.
    "GF_NUMBER_END": _native(
        "s",
        """LET(@a,IF(OR(LEFT(@s)="-",LEFT(@s)="+"),1,0),
        @m,GF_RUN(MID(@s,@a+1,99)),
        @mark,OR(MID(@s,@a+1,1)=".",MID(@s,@a+1,1)=","),
        @next,MID(@s,@a+2,1),
        IF(OR(@m=0,AND(@mark,OR(@m=1,@next=".",@next=","))),0,
        @a+@m+GF_POWER_LENGTH(MID(@s,@a+@m+1,99))))""",
    ),
    # How many characters at the start are a power of ten, as in e-5.
    "GF_POWER_LENGTH": _native(
        "s",
        """LET(@g,IF(OR(MID(@s,2,1)="-",MID(@s,2,1)="+"),1,0),
        @d,GF_RUN(MID(@s,2+@g,99)),
        IF(AND(LOWER(LEFT(@s))="e",@d>0),1+@g+@d,0))""",
    ),
    # The number that a text is, its point or comma read as people write them.
    "GF_NUMBER": _native(
        "s",
        """LET(@a,IF(OR(LEFT(@s)="-",LEFT(@s)="+"),1,0),
        @m,GF_RUN(MID(@s,@a+1,99)),
        @e,MID(@s,@a+@m+2,99),
        IF(LEFT(@s)="-",-1,1)*GF_DIGITS(MID(@s,@a+1,@m))*IF(@e="",1,GF_POWER(@e)))""",
    ),
    "GF_POWER": _native(
        "s",
        """LET(@d,IF(OR(LEFT(@s)="-",LEFT(@s)="+"),MID(@s,2,99),@s),
        IF(OR(LEN(@d)>3,LEN(SUBSTITUTE(SUBSTITUTE(@d,".",""),",",""))<LEN(@d)),#VALUE!,
        10^(IF(LEFT(@s)="-",-1,1)*NUMBERVALUE(@d,".",","))))""",
    ),
    "GF_DIGITS": _native(
        "s",
        """LET(@p,LEN(@s)-LEN(SUBSTITUTE(@s,".","")),
        @k,LEN(@s)-LEN(SUBSTITUTE(@s,",","")),
        IF(AND(@k=0,@p<2),NUMBERVALUE("0"&@s&IF(@p=0,"","0"),".",","),
        IF(AND(@k=1,@p=0),GF_COMMA(@s),GF_GROUPS(@s))))""",
    ),
    # One comma: a decimal one unless it could part off thousands.
    "GF_COMMA": _native(
        "s",
        """LET(@q,FIND(",",@s),@n,LEN(@s)-@q,
        IF(OR(@n=0,AND(@n=3,@q>1,@q<5,LEFT(@s)<>"0")),#VALUE!,
        NUMBERVALUE("0"&SUBSTITUTE(@s,",","."),".",",")))""",
    ),
    # Thousands parted off by the mark that comes first.
    "GF_GROUPS": _native(
        "s",
        """LET(@t,IF(FIND(",",@s&",")<FIND(".",@s&"."),",","."),
        @d,IF(@t=",",".",","),
        @h,LEFT(@s,FIND(@d,@s&@d)-1),
        @tail,MID(@s,LEN(@h)+2,99),
        @n,LEN(@h)-LEN(SUBSTITUTE(@h,@t,"")),
        @first,LEN(@h)-4*@n,
        IF(OR(LEN(SUBSTITUTE(SUBSTITUTE(@tail,",",""),".",""))<LEN(@tail),@first<1,@first>3,@n<1),
        #VALUE!,
        IF(SUMPRODUCT(--(MID(@h,LEN(@h)-4*SEQUENCE(MAX(1,@n))+1,1)=@t))<>@n,#VALUE!,
        NUMBERVALUE("0"&SUBSTITUTE(@h,@t,"")&"."&@tail&"0",".",","))))""",
    ),
    # Whether the point of an amount of goods could part off thousands, as in 1.500 L.
    "GF_EITHER": _native(
        "s",
        """LET(@a,IF(OR(LEFT(@s)="-",LEFT(@s)="+"),1,0),
        @m,GF_RUN(MID(@s,@a+1,99)),
        @d,MID(@s,@a+1,@m),
        @q,FIND(".",@d&"."),
        AND(@m-@q=3,@q>1,@q<5,LEFT(@d)<>"0",ISERROR(FIND(",",@d)),
        LEN(@d)-LEN(SUBSTITUTE(@d,".",""))=1,LOWER(MID(TRIM(MID(@s,@a+@m+1,99)),1,1))<>"e"))""",
    ),
    # The unit of a tidy text, "" where it has none.
    "GF_UNIT": _native("s", "TRIM(MID(@s,GF_NUMBER_END(@s)+1,200))"),
    # Whether the letters of a unit are small and capital as its row of the units sheet allows.
    "GF_CASE": _native(
        "f told",
        """IF(EXACT(@f,LOWER(@f)),@told<8,IF(EXACT(@f,UPPER(@f)),MOD(INT(@told/4),2)=0,
        OR(MOD(@told,4)=0,IF(EXACT(LEFT(@f),"m"),1,2)=MOD(@told,4))))""",
    ),
    # The row of a unit of a kind on the units sheet.
    "GF_ROW": _native(
        "kind unit",
        f"""LET(@f,{_replaced("GF_TIDY(@unit)", MARKS)},
        @q,IFERROR(XMATCH(@kind&"|"&@f,{{units.key}},0),0),
        IF(@q=0,#VALUE!,IF(GF_CASE(@f,INDEX({{units.case}},@q)),
        @q,#VALUE!)))""",
    ),
    # 0 for a text, else an error.
    "GF_WORDS": _native("x", "IF(ISTEXT(@x),0,IF(ISERROR(@x),@x,#VALUE!))"),
    # The number of the list of kinds that a unit can be of.
    "GF_KINDS": _native(
        "unit",
        f"""IF(ISTEXT(@unit),LET(@f,{_replaced("GF_TIDY(@unit)", MARKS)},
        @q,IFERROR(XMATCH(@f,{{lists.key}},0),0),
        IF(@q=0,#VALUE!,IF(GF_CASE(@f,INDEX({{lists.case}},@q)),
        INDEX({{lists.kinds}},@q),#VALUE!))),IF(ISERROR(@unit),@unit,#VALUE!))""",
    ),
    "GF_UNIT_SCALE": _native("row", "INDEX({units.scale},@row)"),
    "GF_UNIT_ZERO": _native("row", "INDEX({units.zero},@row)"),
    "GF_UNIT_REFERENCE": _native("row", "INDEX({units.reference},@row)"),
    "GF_UNIT_WATER": _native("row", "INDEX({units.water},@row)"),
    # A number in a unit, in SI, and back; of gas volumes and water in a gas as well.
    "GF_SI": _native(
        "x row gas",
        """LET(@y,@x*INDEX({units.scale},@row)+INDEX({units.zero},@row),
        @ref,INDEX({units.reference},@row),
        IF(INDEX({units.water},@row)=0,IF(@ref=0,@y,@y*GF_REFERENCE(@gas,@ref)),
        IF(@ref>0,@y/({water}*GF_REFERENCE(@gas,@ref)),
        @y/(@y+{water}/GF_GAS_NUMBER(@gas,1)*(1-@y)))))""",
    ),
    "GF_TOLD": _native(
        "y row gas",
        """LET(@ref,INDEX({units.reference},@row),
        @z,IF(INDEX({units.water},@row)=0,IF(@ref=0,@y,@y/GF_REFERENCE(@gas,@ref)),
        IF(@ref>0,@y*{water}*GF_REFERENCE(@gas,@ref),
        LET(@w,{water}/GF_GAS_NUMBER(@gas,1),@y*@w/(@y*@w+1-@y)))),
        (@z-INDEX({units.zero},@row))/INDEX({units.scale},@row))""",
    ),
    # The number and the unit of a quantity to buy by, as in 100 scf; a bare unit is one of it.
    "GF_COUNT": _native(
        "x",
        """LET(@s,GF_TIDY(@x),@end,GF_NUMBER_END(@s),
        IF(ISERROR(@s),@s,IF(ISERROR(FIND(LEFT(@s),"0123456789")),1,
        IF(OR(@end=LEN(@s),GF_EITHER(@s)),#VALUE!,
        LET(@n,GF_NUMBER(LEFT(@s,@end)),IF(@n>0,@n,#VALUE!))))))""",
    ),
    "GF_COUNTED": _native(
        "x",
        """LET(@s,GF_TIDY(@x),IF(ISERROR(FIND(LEFT(@s),"0123456789")),@s,GF_UNIT(@s)))""",
    ),
    # A number that is within what an argument allows.
    "GF_CHECKED": _native(
        "x term",
        """IF(OR(@x<INDEX({terms.low},@term),@x<=INDEX({terms.above},@term),
        @x>INDEX({terms.high},@term),AND(INDEX({terms.whole},@term)=1,@x<>INT(@x))),#NUM!,@x)""",
    ),
    # An argument in SI: a number in the term's own unit, or text with a unit.
    "GF_READ": _native(
        "x term gas",
        """IF(ISNUMBER(@x),LET(@n,GF_CHECKED(@x,@term),@row,INDEX({terms.row},@term),
        IF(@row=0,@n,GF_SI(@n,@row,@gas))),
        IF(ISTEXT(@x),GF_TEXT(GF_TIDY(@x),@term,@gas),IF(ISERROR(@x),@x,#VALUE!)))""",
    ),
    "GF_TEXT": _native(
        "s term gas",
        """LET(@end,GF_NUMBER_END(@s),
        @unit,TRIM(MID(@s,@end+1,200)),
        @own,INDEX({terms.row},@term),
        IF(@end=0,#VALUE!,IF(AND(INDEX({terms.goods},@term)=1,GF_EITHER(@s)),#VALUE!,
        LET(@n,GF_NUMBER(LEFT(@s,@end)),
        IF(@own=0,IF(@unit="",GF_CHECKED(@n,@term),#VALUE!),
        LET(@row,IF(@unit="",@own,GF_ROW(INDEX({terms.kind},@term),@unit)),
        @si,GF_SI(@n,@row,@gas),
        @back,IF(AND(INDEX({units.scale},@row)=INDEX({units.scale},@own),
        INDEX({units.zero},@row)=INDEX({units.zero},@own),
        INDEX({units.reference},@row)=INDEX({units.reference},@own)),@n,GF_TOLD(@si,@own,@gas)),
        IF(ISERROR(GF_CHECKED(@back,@term)),GF_CHECKED(@back,@term),@si)))))))""",
    ),
    # The row of the unit that an answer is asked in.
    "GF_ASKED": _native("kind unit", "IF(ISTEXT(@unit),GF_ROW(@kind,@unit),#VALUE!)"),
    # One of a few words, by its place.
    "GF_CHOICE": _native(
        "x words", "IF(ISERROR(@x),@x,IFERROR(XMATCH(TRIM(@x),@words,0),#VALUE!))"
    ),
    # An answer; arithmetic that has none is no number.
    "GF_ANSWER": _native("y", "IF(ISERROR(@y),IF(ERROR.TYPE(@y)=2,#NUM!,@y),@y)"),
    # A table, or one error where a number in it is none.
    "GF_TABLE": _native("y", "LET(@s,SUM(@y),IF(ISERROR(@s),GF_ANSWER(@s),@y))"),
    # One cell of a range that is spread to others: its place counted along rows of a width.
    "GF_AT": _native(
        "x place width",
        """IF(ROWS(@x)*COLUMNS(@x)=1,@x,INDEX(@x,1+MOD(INT(@place/@width),ROWS(@x)),
        1+MOD(@place-@width*INT(@place/@width),COLUMNS(@x))))""",
    ),
    # How many cells a row or column has, and each of them; a single value is a line of one.
    "GF_ITEMS": _native("x", "IF(MIN(ROWS(@x),COLUMNS(@x))>1,#VALUE!,MAX(ROWS(@x),COLUMNS(@x)))"),
    "GF_ITEM": _native("x item", "IF(MAX(ROWS(@x),COLUMNS(@x))=1,@x,INDEX(@x,@item))"),
    # Gases: their place in the table, numbers of them, density at reference conditions.
    "GF_GAS": _native(
        "x",
        """IF(ISERROR(@x),@x,IF(ISTEXT(@x),
        IF(OR(ISNUMBER(FIND("%",@x)),ISNUMBER(FIND("+",@x))),#N/A,
        LET(@g,IFERROR(INDEX({names.gas},
        XMATCH(SUBSTITUTE(GF_TIDY(@x),UNICHAR(8322),"2"),{names.name},0)),#VALUE!),
        IF(@g=0,#N/A,@g))),#VALUE!))""",
    ),
    "GF_GAS_NUMBER": _native("gas place", "IF(@gas=0,#VALUE!,INDEX({gases},@gas,@place))"),
    "GF_REFERENCE": _native("gas reference", "INDEX({references},@gas+1,@reference)"),
    # The double series in Chebyshev polynomials: cos(n u) and cos(m v).
    "GF_SERIES": _native(
        "a u v",
        """SUM(MMULT(COS(@u*SEQUENCE(1,ROWS(@a),0)),@a)*COS(@v*SEQUENCE(1,COLUMNS(@a),0)))""",
    ),
    # The place of a state in the series: 0 cold, 1 warm, and the angle of 1/temperature.
    "GF_WARM": _native(
        "gas p t",
        """IF(OR(@p<0,@p>{most},@t<GF_GAS_NUMBER(@gas,3),@t>GF_GAS_NUMBER(@gas,5)),#NUM!,
        IF(@t>GF_GAS_NUMBER(@gas,4),1,0))""",
    ),
    "GF_UP": _native(
        "gas t warm",
        """LET(@near,1/GF_GAS_NUMBER(@gas,3+@warm),@far,1/GF_GAS_NUMBER(@gas,4+@warm),
        ACOS(MAX(-1,MIN(1,(2/@t-@far-@near)/(@near-@far)))))""",
    ),
    "GF_Z": _double("{series}", "1+@p*"),
    "GF_ENTHALPY": _double("{double.enthalpy}"),
    "GF_VISCOSITY": _double("{double.viscosity}"),
    "GF_EXPONENT": _double("{double.isentropic_exponent}"),
    "GF_HEAT_RATIO": _double("{double.heat_capacity_ratio}"),
    # Liquid and vapour in balance: 1 K, 2 mol/m³ of liquid, 3 p/(ρ R T) of vapour, 4, 5 J/mol,
    # 6, 7 J/(mol K).
    "GF_SATURATED": _native(
        "gas p place",
        """LET(@critical,INDEX({saturated},@gas,1),
        @low,INDEX({saturated},@gas,2),@high,INDEX({saturated},@gas,3),
        IF(OR(@p<=0,@p>=@critical),#NUM!,
        LET(@w,SQRT(LN(@critical/@p)),
        IF(OR(@w<@low,@w>@high),#NUM!,
        SUMPRODUCT(INDEX({saturation},INDEX({saturated},@gas,4)+@place,0),
        COS(ACOS((2*@w-@low-@high)/(@high-@low))*SEQUENCE(1,COLUMNS({saturation}),0)))))))""",
    ),
    # The least and the largest pressure that these are told at, just within.
    "GF_SATURATED_END": _native(
        "gas end",
        """INDEX({saturated},@gas,1)*EXP(-(INDEX({saturated},@gas,4-@end)^2))
        *IF(@end=1,1.000000001,0.999999999)""",
    ),
    "GF_VAPOUR_DENSITY": _native(
        "gas p",
        """@p/(GF_SATURATED(@gas,@p,3)*GF_GAS_NUMBER(@gas,2)*GF_SATURATED(@gas,@p,1))""",
    ),
    "GF_LIQUID_DENSITY": _cold("{liquid.density}"),
    "GF_LIQUID_ENTHALPY": _cold("{liquid.enthalpy}"),
    # The pressure that liquid of a temperature boils at.
    "GF_BOILING": _native(
        "gas t",
        """LET(@critical,INDEX({boiling},@gas,1),
        @low,INDEX({boiling},@gas,2),@high,INDEX({boiling},@gas,3),
        IF(@t>=@critical,#NUM!,LET(@x,SQRT(1-@t/@critical),IF(OR(@x<@low,@x>@high),#NUM!,
        LET(@w,SUMPRODUCT(INDEX({boils},@gas,0),
        COS(ACOS((2*@x-@low-@high)/(@high-@low))*SEQUENCE(1,COLUMNS({boils}),0))),
        INDEX({saturated},@gas,1)*EXP(-(@w^2)))))))""",
    ),
    # Whether a text has a unit of a kind.
    "GF_IS_OF": _native(
        "x kind", "IF(ISTEXT(@x),ISNUMBER(GF_ROW(@kind,GF_UNIT(GF_TIDY(@x)))),FALSE)"
    ),
    "GF_MOLAR_DENSITY": _native("gas p t", "@p/(GF_Z(@gas,@p,@t)*GF_GAS_NUMBER(@gas,2)*@t)"),
    # The pressure of a density, by the secant method on the series.
    "GF_PRESSURE_OF": _native(
        "gas d t",
        """LET(@ideal,@d*GF_GAS_NUMBER(@gas,2)*@t,
        @a,MIN(@ideal,{most}),@x,@a-@ideal*GF_Z(@gas,@a,@t),
        @b,MIN(@a-@x,{most}),@y,@b-@ideal*GF_Z(@gas,@b,@t),
        @e,GF_SECANT(@a,@x,@b,@y),@z,@e-@ideal*GF_Z(@gas,@e,@t),
        @f,GF_SECANT(@b,@y,@e,@z),@w,@f-@ideal*GF_Z(@gas,@f,@t),
        @g,GF_SECANT(@e,@z,@f,@w),@q,@g-@ideal*GF_Z(@gas,@g,@t),
        @h,GF_SECANT(@f,@w,@g,@q),@k,@h-@ideal*GF_Z(@gas,@h,@t),
        @end,GF_SECANT(@g,@q,@h,@k),
        IF(ABS(@k)>0.000001*@h,#NUM!,@end))""",
    ),
    "GF_SECANT": _native("a x b y", "IF(@y=@x,@b,MAX(0,MIN({most},@b-@y*(@b-@a)/(@y-@x))))"),
} | {name: _native(*native) for name, native in TEXTS.items()}


def needed(texts: Mapping[str, str]) -> list[str]:
    """The natives that formulas call, and those that these call, in the table's order."""
    found: set[str] = set()
    waiting = list(texts.values())
    while waiting:
        for name in set(HELPER.findall(waiting.pop())) - found:
            if name in NATIVES:
                found.add(name)
                waiting.append(NATIVES[name].body)
    return [name for name in NATIVES if name in found]


def formula(native: Native, place: Callable[[str], str]) -> str:
    """A native's body with its places on the hidden sheet."""
    return re.sub(r"\{([\w.]+)\}", lambda match: place(match[1]), native.body)
