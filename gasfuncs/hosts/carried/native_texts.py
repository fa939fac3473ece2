"""Native readers of texts of a kind of their own: grades, levels, tolerances, readings off scale.

They are written as those of `natives` are.
"""

from __future__ import annotations

MOST_PARTS = 7
"""Of a text that names weekdays."""


def _of_parts(one: str, between: str) -> str:
    return between.join(one.replace("#", str(part)) for part in range(1, MOST_PARTS + 1))


def _of_days(one: str) -> str:
    return ",".join(one.replace("#", str(day)) for day in range(7))


TEXTS: dict[str, tuple[str, str]] = {
    # The weekdays from Monday on, 0 of an open one, of a text such as "Mon-Fri" or "Tue, Thu".
    "GF_WEEK": (
        "x",
        f"""IF(ISERROR(@x),@x,IF(NOT(ISTEXT(@x)),#VALUE!,
        LET(@s,SUBSTITUTE(SUBSTITUTE(LOWER(TRIM(@x)),UNICHAR(8211),"-"),";",","),
        @n,LEN(@s)-LEN(SUBSTITUTE(@s,",",""))+1,@t,SUBSTITUTE(@s,",",REPT(" ",99)),
        IF(OR(@s="",@s="every day",@s="daily"),"0000000",IF(@n>{MOST_PARTS},#N/A,
        LET({_of_parts("@p#,IF(@n<#,0,GF_WEEK_PART(TRIM(MID(@t,99*#-98,99))))", ",")},
        CONCATENATE({_of_days(f"GF_WEEK_DAY(#,{_of_parts('@p#', ',')})")})))))))""",
    ),
    # The first day of a part and how many more it has, as 10 and 1 more than both.
    "GF_WEEK_PART": (
        "p",
        """LET(@i,FIND("-",@p&"-"),@a,GF_WEEKDAY(LEFT(@p,@i-1)),
        @b,IF(@i>LEN(@p),@a,GF_WEEKDAY(MID(@p,@i+1,99))),10*(@a+1)+MOD(@b-@a,7))""",
    ),
    "GF_WEEK_DAY": (
        f"day {_of_parts('p#', ' ')}",
        f"""IF(OR({_of_parts("AND(@p#>0,MOD(@day+1-INT(@p#/10),7)<=MOD(@p#,10))", ",")}),0,1)""",
    ),
    # A weekday by its name or how that begins, Monday 0.
    "GF_WEEKDAY": (
        "s",
        """LET(@w,TRIM(@s),@t,IF(RIGHT(@w)=".",LEFT(@w,LEN(@w)-1),@w),
        IF(OR(LEN(@t)<2,ISNUMBER(FIND("|",@t))),#VALUE!,
        IFERROR(MATCH(FIND("|"&@t,"|monday|tuesday|wednesday|thursday|friday|saturday|sunday"),
        {1,8,16,26,35,42,51},0)-1,#VALUE!)))""",
    ),
    # A grade of gas by its nines and digit, or as text in percent: that is a share below zero.
    "GF_GRADE": (
        "x",
        """IF(ISTEXT(@x),LET(@s,GF_TIDY(@x),@n,GF_NINES(UPPER(@s)),IF(@n>=0,GF_GRADED(@n),
        IF(RIGHT(@s)="%",-GF_PURITY(SUBSTITUTE(@s,",",".")),IF(GF_UNIT(@s)="",
        GF_GRADED(GF_NUMBER(LEFT(@s,GF_NUMBER_END(@s)))),#VALUE!)))),
        IF(ISNUMBER(@x),GF_GRADED(@x),IF(ISERROR(@x),@x,#VALUE!)))""",
    ),
    "GF_GRADED": (
        "n",
        "IF(OR(@n<1,@n>=10,ABS(10*@n-ROUND(10*@n,0))>0.000000001),#NUM!,ROUND(10*@n,0)/10)",
    ),
    "GF_PURITY": (
        "s",
        """LET(@end,GF_NUMBER_END(@s),IF(OR(@end=0,TRIM(MID(@s,@end+1,9))<>"%"),#VALUE!,
        LET(@n,GF_NUMBER(LEFT(@s,@end)),IF(AND(@n>0,@n<100),ROUND(@n/100,15),#NUM!))))""",
    ),
    # N5, N4.8, 5N or 4N8 in capitals as a number, below 0 for anything else.
    "GF_NINES": (
        "s",
        """LET(@r,TRIM(MID(@s,2,9)),IF(LEFT(@s)="N",LET(@a,GF_DIGIT(@r),@b,GF_DIGIT(MID(@r,3,1)),
        IF(AND(@r<>"",@a>=0,@b>=0,OR(LEN(@r)=1,AND(LEN(@r)=3,
        OR(MID(@r,2,1)=".",MID(@r,2,1)=",")))),@a+@b/10,-1)),
        LET(@d,TRIM(MID(@r,2,9)),@a,GF_DIGIT(@s),@b,GF_DIGIT(@d),
        IF(AND(@s<>"",@a>=0,@b>=0,LEFT(@r)="N",LEN(@d)<2),@a+@b/10,-1))))""",
    ),
    # The digit at the start of a text, 0 of an empty one, below 0 where it is none.
    "GF_DIGIT": ("s", 'IF(@s="",0,IFERROR(FIND(LEFT(@s),"0123456789")-1,-1))'),
    # What a level in percent is a share of: 1 the height, 2 the volume; 0 where it is no share.
    "GF_LEVEL_OF": (
        "x",
        """IF(ISTEXT(@x),LET(@s,GF_TIDY(@x),@of,LOWER(TRIM(MID(@s,FIND("%",@s&"%")+1,99))),
        @n,IFERROR(XMATCH(@of,{"height","of height","vol","vol.","volume","of vol","of vol.",
        "of volume"},0),0),IF(ISERROR(FIND("%",@s)),0,IF(@n>2,2,IF(OR(@of="",@n>0),1,0)))),0)""",
    ),
    "GF_LEVEL_SHARE": ("x", 'LEFT(GF_TIDY(@x),FIND("%",GF_TIDY(@x)))'),
    # What stands before a reading that is off the scale: how many characters.
    "GF_BELOW": (
        "x",
        """IF(ISTEXT(@x),LET(@s,LOWER(GF_TIDY(@x)),IF(LEFT(@s,2)="<=",2,
        IF(OR(LEFT(@s)="<",LEFT(@s)=UNICHAR(8804)),1,IF(LEFT(@s,5)="below",5,0)))),0)""",
    ),
    "GF_BELOW_WHAT": ("x", "TRIM(MID(GF_TIDY(@x),GF_BELOW(@x)+1,200))"),
    # How many characters the mark of a tolerance takes: ±, +/-, +-, u, u=.
    "GF_MARKED": (
        "s",
        """IF(LEFT(@s)=UNICHAR(177),1,IF(LEFT(@s,3)="+/-",3,IF(LEFT(@s,2)="+-",2,
        IF(EXACT(LEFT(@s),"u"),IF(LEFT(TRIM(MID(@s,2,9)))="=",FIND("=",@s),
        IF(ISNUMBER(FIND(MID(@s&"x",2,1)," .0123456789")),1,0)),0))))""",
    ),
    # The first or second error of a tolerance, "" where it has no such.
    "GF_PIECE": (
        "x place",
        """IF(ISTEXT(@x),LET(@one,IFERROR(FIND(";",@x),LEN(@x)+1),@rest,TRIM(MID(@x,@one+1,999)),
        IF(ISNUMBER(FIND(";",@rest)),#N/A,IF(@place=1,TRIM(LEFT(@x,@one-1)),@rest))),
        IF(ISERROR(@x),@x,IF(OR(@place=2,TRIM(@x)="",TRIM(@x)="0"),"",@x)))""",
    ),
    # One error of a tolerance as a standard deviation: 1 the share of the reading, 2 what is fixed.
    # A text with names or degrees of freedom is not read.
    "GF_TOLERANCE": (
        "x place kind more sort gas",
        """IF(TRIM(@x)="",0,IF(ISTEXT(@x),LET(@s,GF_TIDY(@x),@m,GF_MARKED(@s),@r,TRIM(MID(@s,@m+1,200)),
        @end,GF_NUMBER_END(@r),@n,IF(@end=0,#VALUE!,GF_NUMBER(LEFT(@r,@end))),
        IF(ISERROR(@n),@n,IF(ISNUMBER(FIND("df",@s)),#N/A,
        IF(OR(@n<0,@n>1000000000000000),#NUM!,
        LET(@t,TRIM(MID(@r,@end+1,200)),@percent,LEFT(@t)="%",
        @all,IF(@percent,TRIM(MID(@t,2,200)),@t),@unit,GF_UNCOVERED(@all),
        @d,GF_DIVISOR(GF_COVERAGE(@all),EXACT(LEFT(@s,MIN(@m,1)),"u")),
        IF(@percent,GF_TOLERANCE_SHARE(@n/100/@d,@unit,@place,@kind,@more,@sort,@gas),
        IF(@place=1,0*@n/@d,@n*GF_WIDTH(@unit,@kind,@more,@sort,@gas)/@d))))))),
        #VALUE!))""",
    ),
    "GF_TOLERANCE_SHARE": (
        "share unit place kind more sort gas",
        """LET(@of,TRIM(MID(@unit,4,200)),@w,LOWER(@of),@end,GF_NUMBER_END(@of),
        IF(@unit="",IF(@sort>0,#VALUE!,IF(@place=1,@share,0*@share)),
        IF(LOWER(LEFT(@unit,3))<>"of ",#N/A,IF(OR(@w="reading",@w="value"),
        IF(@sort=2,#VALUE!,IF(@place=1,@share,0*@share)),
        IF(OR(LEFT(@w,8)="reading ",LEFT(@w,6)="value "),#N/A,IF(@end=0,#VALUE!,
        IF(@place=1,0*@share,@share*GF_NUMBER(LEFT(@of,@end))*
        GF_WIDTH(TRIM(MID(@of,@end+1,200)),@kind,@more,@sort,@gas))))))))""",
    ),
    # How much one of a unit is; a name behind a unit is not read.
    "GF_WIDTH": (
        "unit kind more sort gas",
        """IF(@unit="",#VALUE!,IF(AND(@sort=1,LOWER(@unit)="points"),0.01,
        LET(@first,LEFT(@unit,FIND(" ",@unit&" ")-1),@rest,MID(@unit,LEN(@first)+2,200),
        @named,OR(ISNUMBER(GF_ROW(@kind,@first)),ISNUMBER(GF_ROW(@more,@first)),
        AND(@sort=1,LOWER(@first)="points")),IF(AND(@rest<>"",LEFT(@rest)<>"(",@named),#N/A,
        LET(@one,GF_ROW(@kind,@unit),@row,IF(ISNUMBER(@one),@one,GF_ROW(@more,@unit)),
        IF(ISNUMBER(@row),ABS(GF_SI(1,@row,@gas)-GF_SI(0,@row,@gas)),#VALUE!))))))""",
    ),
    # What a number is divided by: the factor that is told, 1 of a standard uncertainty, else √3.
    "GF_DIVISOR": (
        "factor standard",
        """IF(ISERROR(@factor),@factor,
        IF(@standard,IF(@factor=0,1,#VALUE!),IF(@factor=0,SQRT(3),@factor)))""",
    ),
    # Where k=2, (k=2), 95% or (95 %) begins at the end of a text, one beyond it where none does.
    "GF_COVERED_FROM": (
        "s",
        """LET(@at,IFERROR(FIND("k=",SUBSTITUTE(@s,"k =","k= ")),0),
        @before,IF(@at>1,MID(@s,@at-1,1)," "),
        @k,IF(OR(@before=" ",@before="("),@at,0),
        @body,TRIM(LEFT(@s,LEN(@s)-IF(RIGHT(@s)=")",1,0))),
        IF(@k>0,IF(@before="(",@k-1,@k),
        IF(RIGHT(@body)<>"%",LEN(@s)+1,
        LET(@left,TRIM(LEFT(@body,LEN(@body)-1)),
        @w,TRIM(RIGHT(SUBSTITUTE(@left," ",REPT(" ",99)),99)),LEN(@left)-LEN(@w)+1))))""",
    ),
    "GF_UNCOVERED": ("s", "TRIM(LEFT(@s,GF_COVERED_FROM(@s)-1))"),
    # The factor that a text's end tells, 0 where it tells none.
    "GF_COVERAGE": (
        "s",
        """LET(@c,SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(MID(@s,GF_COVERED_FROM(@s),99)," ",""),"(",""),
        ")",""),@level,RIGHT(@c)="%",@w,IF(@level,LEFT(@c,LEN(@c)-1),MID(@c,3,99)),
        @n,IF(AND(@w<>"",GF_RUN(@w)=LEN(@w),ISERROR(FIND(",",@w))),GF_NUMBER(@w),#N/A),
        IF(@c="",0,IF(ISERROR(@n),@n,IF(@level,
        IF(AND(@n>=50,@n<100),NORM.S.INV(0.5+@n/200),#NUM!),IF(AND(@n>=1,@n<=10),@n,#NUM!)))))""",
    ),
    # A number as text with so many digits, with a power of ten where it is large or small.
    "GF_GENERAL": (
        "x digits",
        """IF(@x=0,"0",LET(@n,INT(LOG10(ABS(@x))),@m,ROUND(@x/10^@n,@digits-1),
        @e,IF(ABS(@m)<10,@n,@n+1),@k,IF(ABS(@m)<10,@m,@m/10),
        IF(AND(@e>-5,@e<@digits),CONCATENATE(ROUND(@x,@digits-1-@e),""),
        CONCATENATE(@k,"e",IF(@e<0,"-","+"),IF(ABS(@e)<10,"0",""),ABS(@e)))))""",
    ),
    # Whether a range is a single cell with nothing in it.
    "GF_NOTHING": ("x", 'IF(ROWS(@x)*COLUMNS(@x)>1,FALSE,TRIM(@x)="")'),
    # A cell of a row, blank where the range has no such column.
    "GF_CELL": (
        "x row column",
        """IF(@column>COLUMNS(@x),"",IF(ROWS(@x)*COLUMNS(@x)=1,@x,INDEX(@x,@row,@column)))""",
    ),
    # How many rows of a range hold anything, without a row of headings.
    "GF_ROW_COUNT": (
        "x heading columns",
        """LET(@f,MMULT(--(LEN(TRIM(@x))>0),SEQUENCE(COLUMNS(@x),1,1,0)),@n,SUM(SIGN(@f)),
        IF(COLUMNS(@x)>@columns,#VALUE!,IF(ISERROR(@n),@n,IF(@n=0,0,
        @n-IF(LOWER(TRIM(GF_CELL(@x,MATCH(TRUE,@f>0,0),1)))=@heading,1,0)))))""",
    ),
    # The name of something, or its number as text; two spaces in a row are not read.
    "GF_NAME": (
        "x",
        """IF(ISTEXT(@x),LET(@s,TRIM(@x),
        IF(EXACT(MID(@x,FIND(LEFT(@s),@x),LEN(@s)),@s),@s,#N/A)),IF(ISNUMBER(@x),
        IF(AND(@x=INT(@x),ABS(@x)<1000000000000000),FIXED(@x,0,TRUE),#VALUE!),
        IF(ISERROR(@x),@x,#VALUE!)))""",
    ),
    # A day as a number or as text such as 2026-03-05; none before March 1900 where it is a text,
    # when spreadsheets have a day that never was. Other ways to write one are not read.
    "GF_DATE": (
        "x term",
        """IF(ISTEXT(@x),LET(@s,TRIM(@x),@d,LEFT(@s,4)&MID(@s,6,2)&MID(@s,9,2),
        IF(AND(LEN(@s)=10,MID(@s,5,1)="-",MID(@s,8,1)="-",LEN(@d)=8,GF_RUN(@d)=8,
        LEN(SUBSTITUTE(SUBSTITUTE(@d,".",""),",",""))=8),
        GF_CHECKED(GF_DAY(VALUE(LEFT(@d,4)),VALUE(MID(@d,5,2)),VALUE(RIGHT(@d,2))),@term),
        IF(OR(AND(LEN(@s)>10,MID(@s,5,1)="-",MID(@s,8,1)="-"),
        LEN(SUBSTITUTE(SUBSTITUTE(LEFT(@s,GF_RUN(@s)),".",""),",",""))>7,
        MID(@s,5,1)="W",MID(@s,6,1)="W"),#N/A,#VALUE!))),GF_READ(@x,@term,0))""",
    ),
    "GF_DAY": (
        "year month day",
        """IF(OR(@year<1,@month<1,@month>12,@day<1,@day>31),#VALUE!,
        IF(@year*100+@month<190003,#NUM!,
        LET(@n,DATE(@year,@month,@day),IF(DAY(@n)=@day,@n,#VALUE!))))""",
    ),
    # The month of a day, counted from January 1970, and its first day.
    "GF_MONTH": ("day", "IF(@day<61,#NUM!,12*YEAR(@day)+MONTH(@day)-23641)"),
    "GF_FIRST_DAY": ("month", "DATE(1970,1+@month,1)"),
    # The numbers of the rows of a range that hold anything, without a row of headings.
    "GF_FILLED_ROWS": (
        "x heading columns most",
        """LET(@f,MMULT(--(LEN(TRIM(@x))>0),SEQUENCE(COLUMNS(@x),1,1,0)),@n,SUM(@f),
        IF(COLUMNS(@x)>@columns,#VALUE!,IF(ISERROR(@n),@n,IF(@n=0,#VALUE!,
        LET(@r,FILTER(SEQUENCE(ROWS(@x)),@f>0),@first,MIN(@r),
        @rows,IF(LOWER(TRIM(GF_CELL(@x,@first,1)))<>@heading,@r,
        IF(ROWS(@r)=1,#VALUE!,FILTER(@r,@r>@first))),
        IF(ROWS(@rows)>@most,#VALUE!,@rows))))))""",
    ),
}
"""Arguments and formula of each."""
