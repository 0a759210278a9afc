"""Listed wrong turns of lessons 06 to 10; see slips_lever for how a row is read."""

FIELD_SLIPS = {
    "aarc": (
        (
            "H1",
            "the whole reach, as if the arm lay level",
            "r-p",
            "Raise the arm: does the load come nearer or go farther?",
        ),
        (
            "H2",
            "the distance from the pivot, not from the front axle",
            "r*co",
            "From where is the overhang measured?",
        ),
        (
            "H3",
            "the pivot counted ahead of the front axle",
            "r*co+p",
            "On which side of the front axle is the pivot?",
        ),
        (
            "H4",
            "the height of the load above the pivot, in the place of its level part",
            "r*so-p",
            "Level part: sine or cosine?",
        ),
    ),
    "Fdn": (
        (
            "H5",
            "the reading with the nose uphill",
            "Fup",
            "Nose downhill: which axle gets heavier?",
        ),
        (
            "H6",
            "the reading on level ground",
            "F",
            "What does the downhill part of the weight do, at its height?",
        ),
        ("H7", "the rear reading", "Rdn", "Which axle is asked?"),
        (
            "H8",
            "the level reading times the cosine",
            "F*cj",
            "What does the downhill part of the weight do, at its height?",
        ),
    ),
    "Rdn": (
        (
            "H5",
            "the reading with the nose uphill",
            "Rup",
            "Nose downhill: which axle gets heavier?",
        ),
        (
            "H6",
            "the reading on level ground",
            "R",
            "What does the downhill part of the weight do, at its height?",
        ),
        ("H7", "the front reading", "Fdn", "Which axle is asked?"),
        (
            "H8",
            "the level reading times the cosine",
            "R*cj",
            "What does the downhill part of the weight do, at its height?",
        ),
    ),
    "push": (
        (
            "H9",
            "the part that presses square to the slope",
            "T*cj",
            "Along the slope: sine or cosine?",
        ),
        ("H10", "the whole weight", "T", "Does all of the weight pull along the slope?"),
    ),
    "mu": (
        (
            "H11",
            "the share of the whole machine, as if all tires held",
            "sj/cj",
            "Which axle holds, and what presses on it?",
        ),
        (
            "H12",
            "the push over the level rear reading",
            "push/R",
            "What is left on the rear, nose downhill?",
        ),
        (
            "H13",
            "the friction upside down",
            "Rdn/push",
            "Steeper: should it need more friction, or less?",
        ),
        ("H14", "the push over the front reading", "push/Fdn", "Which axle is braked?"),
    ),
    "moved": (
        (
            "H15",
            "the lever upside down",
            "slow*L/h",
            "A higher load: does more move forward, or less?",
        ),
        (
            "H16",
            "the slowing force itself",
            "slow",
            "At which arm does it act, and what balances it?",
        ),
        (
            "H17",
            "half of the slowing force",
            "slow/2",
            "At which arm does it act, and what balances it?",
        ),
        ("H18", "the lever without the slowing", "T*h/L", "Is the machine stopped dead?"),
    ),
    "Gdeg": (
        ("H19", "percent taken for degrees", "G", "Is 100 percent a right angle?"),
        ("H20", "percent of a right angle", "0.9*G", "Is 100 percent a right angle?"),
        ("H21", "the angle in radians", "0.0174532925*Gdeg", "Which unit of angle is asked?"),
    ),
    "tilt": (
        (
            "H22",
            "the whole track over the height",
            "tiltw",
            "From the middle to the tire line: the whole track, or half?",
        ),
        (
            "H23",
            "the angle measured from the vertical",
            "90-tilt",
            "From which line is a slope measured?",
        ),
        (
            "H24",
            "height over half the track",
            "90-tilt",
            "A wider machine: should it lean more, or less?",
        ),
    ),
    "ssf": (
        (
            "H25",
            "the whole track over the height",
            "t/h",
            "From the middle to the tire line: the whole track, or half?",
        ),
        ("H26", "the ratio upside down", "2*h/t", "A wider machine: should the number grow?"),
    ),
    "Wkeep": (
        (
            "H27",
            "the load that lifts the rear altogether",
            "Wl",
            "Is it all of the rear load that may go?",
        ),
        (
            "H28",
            "a fifth of the bare tractor kept",
            "(R0-0.2*T0)*L/a",
            "A fifth of what? Does the load count too?",
        ),
        (
            "H29",
            "the rear reading less a fifth, without the lever",
            "R0-0.2*T0",
            "Do load and rear reading act at the same distance?",
        ),
        (
            "H30",
            "four fifths of the rear reading taken off",
            "0.8*R0*L/a",
            "A fifth of the rear reading, or of everything?",
        ),
    ),
    "dFB": (
        (
            "B1",
            "no effect at all",
            "0*B",
            "That is so only on the rear axle line. How far behind it does the ballast hang?",
        ),
        (
            "B2",
            "kilo for kilo, or pound for pound, taken off the front",
            "-B",
            "What decides how much: the weight alone?",
        ),
        ("B4", "the right size with the other sign", "-dFB", "Which end goes down?"),
        (
            "B5",
            "the lever with the overhang of the bucket",
            "-B*a/L",
            "Where does the ballast hang, and from which axle is that measured?",
        ),
        ("B7", "what the rear gains", "dRB", "Which axle is asked?"),
        ("B8", "the lever upside down", "-B*L/b", "Farther behind: more relief, or less?"),
    ),
    "dRB": (
        (
            "B6",
            "the weight alone, without the lever",
            "B",
            "It hangs past the rear axle, as the bucket hangs past the front one. What does that do?",
        ),
        ("B9", "what the front loses", "-dFB", "And which axle carries the ballast itself?"),
        ("B10", "the lever upside down", "B*(1+L/b)", "Farther behind: should your number grow?"),
        (
            "B11",
            "ballast between the axles",
            "B*(1-b/L)",
            "On which side of the rear axle does it hang?",
        ),
        ("B12", "plain doubling", "2*B", "At which distance does it double?"),
    ),
    "dTB": (
        ("B13", "what the rear gains", "dRB", "What did the front do meanwhile?"),
        ("S3", "no change at all", "0*B", "What would one scale under the whole machine show?"),
        ("B14", "both changes added without their signs", "dRB-dFB", "Which of the two is a loss?"),
    ),
    "Bc": (
        (
            "B15",
            "as much ballast as the bucket weighs",
            "W",
            "Do both act at the same distance from the rear axle?",
        ),
        ("B16", "as much ballast as the front gained", "dF", "At which arm does the ballast act?"),
        (
            "B17",
            "the lever upside down",
            "dF*b/L",
            "Farther behind: should it take more ballast, or less?",
        ),
        (
            "B18",
            "the ballast that matches the rear's loss",
            "-dR*L/b",
            "What is to be taken off: the front gain, or the rear loss?",
        ),
    ),
    "FB": (
        ("B19", "the change added", "F0-dFB", "Which end goes down?"),
        (
            "B20",
            "the whole ballast taken off the front",
            "F0-B",
            "What decides how much: the weight alone?",
        ),
        (
            "B21",
            "the reading before",
            "F0",
            "That is so only on the rear axle line. Where does the ballast hang?",
        ),
        ("F16", "the change alone", "dFB", "What stood there before?"),
    ),
    "RB": (
        (
            "B22",
            "the reading before and the bare ballast",
            "R0+B",
            "It hangs past the rear axle: what does that do?",
        ),
        ("B23", "the change taken off", "R0-dRB", "Which end goes down?"),
        ("F16", "the change alone", "dRB", "What stood there before?"),
    ),
    "both": (
        ("B24", "the ballast's part alone", "dRB", "What does the bucket do to the rear?"),
        (
            "B25",
            "the bucket's part added with the other sign",
            "dRB-dR",
            "Does the bucket load the rear, or lighten it?",
        ),
        ("B26", "ballast less bucket, without levers", "B-W", "What do the arms do?"),
        ("B27", "ballast and bucket added, without levers", "B+W", "What do the arms do?"),
    ),
    "Bs": (
        (
            "B28",
            "the missing load, without the lever",
            "0.2*T0-Fm",
            "The weights hang ahead of the front axle: what does each kilogram or pound count there?",
        ),
        ("B29", "a fifth of the tractor", "0.2*T0", "What does the front axle carry already?"),
        (
            "B30",
            "the implement forgotten",
            "(0.2*T0-F0)/(1+w/L)",
            "What does the implement take off the front?",
        ),
    ),
    "pf": (
        ("Q1", "the axle on one tire", "2*pf", "How many tires carry the axle?"),
        (
            "Q2",
            "the whole machine on the two front tires",
            "pT",
            "Which axle stands on these tires?",
        ),
        (
            "Q4",
            "the whole machine on four equal prints",
            "pT/2",
            "Do front and rear carry alike, on prints alike?",
        ),
        (
            "Q9",
            "kilograms over area, without g",
            "pf/9.80665",
            "What force does a kilogram press with?",
        ),
        ("Q10", "pascals in place of kilopascals", "1000*pf", "How many pascals are a kilopascal?"),
        ("Q11", "four tires on one axle", "pf/2", "How many tires carry the axle?"),
    ),
    "pAp": (
        ("Q12", "the whole axle on one print", "2*pAp", "How many tires carry the axle?"),
        ("Q13", "the print as a full rectangle", "pAp*c", "Does the print fill its corners?"),
        (
            "Q9",
            "kilograms over area, without g",
            "pAp/9.80665",
            "What force does a kilogram press with?",
        ),
    ),
    "Ap": (
        ("Q13", "the full rectangle", "l*v", "Does the print fill its corners?"),
        (
            "Q14",
            "divided by the shape",
            "l*v/c",
            "Is a rounded print smaller or bigger than its rectangle?",
        ),
    ),
    "An": (
        ("Q15", "the print for the whole axle", "2*An", "How many tires share the axle?"),
        (
            "Q9",
            "kilograms over pressure, without g",
            "An/9.80665",
            "What force does a kilogram press with?",
        ),
        (
            "Q16",
            "the print upside down",
            "0.0001*N/Fw",
            "Higher pressure: bigger print, or smaller?",
        ),
    ),
    "p1": (
        ("Q17", "the old print under the new load", "pold", "Does the print stay as it was?"),
        ("Q18", "the pressure before", "p0", "Before, or after?"),
    ),
    "pp": (
        (
            "Q6",
            "the growth of the load in percent",
            "100*(F1-F0)/F0",
            "Does the print stay as it was?",
        ),
        (
            "Q19",
            "the growth of the print in percent",
            "100*(Ag-A)/A",
            "Load, print or pressure: which is asked?",
        ),
        (
            "C3",
            "the new pressure in percent of the old one",
            "100*p1/p0",
            "Percent of it, or percent more than it?",
        ),
    ),
    "pc": (
        ("Q8", "the inflation pressure itself", "I", "What does the stiff tire body carry?"),
        ("Q20", "the carcass share taken off", "I-K", "Does the tire body help the air to carry?"),
    ),
    "rad": (
        ("Q21", "the diameter", "2*rad", "Radius, or diameter?"),
        ("Q22", "the root of the area, without π", "A^0.5", "What is the area of a circle?"),
        ("Q23", "half the side of a square", "A^0.5/2", "Circle, or square?"),
    ),
    "sz": (
        (
            "Q24",
            "the pressure at the surface",
            "N",
            "Does the stress stay the same on its way down?",
        ),
        (
            "Q25",
            "what has faded, not what is left",
            "N-sz",
            "What is left at that depth, or what is gone?",
        ),
        (
            "Q26",
            "the formula with the whole width in the place of the radius",
            "szd",
            "Radius, or diameter?",
        ),
    ),
    "psz": (
        (
            "Q25",
            "what has faded, not what is left",
            "100-psz",
            "What is left at that depth, or what is gone?",
        ),
        ("Q27", "the fraction, not yet percent", "psz/100", "What turns a fraction into percent?"),
    ),
    "In": (
        (
            "Q28",
            "pressure in proportion to load",
            "I*Q1/Q0",
            "Does the general law go straight, or by a power?",
        ),
        (
            "Q29",
            "the power 0.8 the wrong way round",
            "Iw",
            "Load goes as pressure to 0.8. Then pressure goes as load to what?",
        ),
        ("Q30", "the loads swapped", "I*Q0/Q1", "More load: more pressure, or less?"),
    ),
    "Cm": (
        ("D9", "turns over distance", "nt/s", "Meters for each turn, or turns for each meter?"),
        ("D10", "the diameter", "Cm/3.14159265", "Round the tire, or across it?"),
        ("D11", "the radius", "Cm/6.2831853", "Round the tire, or across it?"),
    ),
    "gr": (
        ("D12", "the ratio upside down", "nr/n1", "Which wheels turn more often?"),
        ("D13", "the difference of the turns", "n1-nr", "A ratio, or a difference?"),
    ),
    "ld": (
        (
            "D2",
            "the lead without the turns ratio",
            "100*(Cf-Cr)/Cr",
            "How often does the front turn for one rear turn?",
        ),
        ("D4", "the ratio, not the lead", "100*Cf*g1/Cr", "How much more than 100 percent is it?"),
        (
            "D5",
            "the right size with the other sign",
            "-ld",
            "Positive means that the front wants to go farther. Does it?",
        ),
        ("D15", "the fraction, not yet percent", "ld/100", "What turns a fraction into percent?"),
    ),
    "lro": (
        (
            "D16",
            "the two counts swapped",
            "100*(n0/nin-1)",
            "With the drive in the front is forced on: which count is bigger?",
        ),
        ("D4", "the ratio, not the lead", "100*nin/n0", "How much more than 100 percent is it?"),
        ("D17", "the difference of the counts", "nin-n0", "Percent of what?"),
        ("D15", "the fraction, not yet percent", "lro/100", "What turns a fraction into percent?"),
    ),
    "Cf": (
        ("D18", "no lead at all", "Cr/g1", "Should the front want to go as far, or farther?"),
        (
            "D19",
            "the turns ratio the wrong way round",
            "Cr*(1+e/100)*g1",
            "Are the front wheels bigger or smaller?",
        ),
        (
            "D20",
            "a lag in the place of a lead",
            "Cr*(1-e/100)/g1",
            "Should the front want to go farther, or less far?",
        ),
    ),
    "path": (
        (
            "D21",
            "the two sides added",
            "(O+L)/O",
            "Add along a right angle: plainly, or as squares?",
        ),
        ("D22", "the ratio upside down", "1/path", "Which axle runs on the larger circle?"),
        (
            "D23",
            "wheelbase over radius",
            "L/O",
            "Which side of the triangle does the front axle stand at?",
        ),
    ),
    "mis": (
        (
            "D8",
            "the extra way of the turn alone, without the lead",
            "mis-e",
            "Lead and turn are two causes: do both count?",
        ),
        (
            "D24",
            "lead and turn added",
            "2*e-mis",
            "In a turn, does the lead help the front, or hinder it?",
        ),
        ("D25", "the lead alone", "e", "What does the turn ask of the front?"),
        (
            "D5",
            "the right size with the other sign",
            "-mis",
            "Positive means over-driven. Is it, in this turn?",
        ),
    ),
    "slip": (
        ("D26", "percent not taken as hundredths", "D*e", "What does percent mean?"),
        (
            "D27",
            "the way left when the slip is gone",
            "D-slip",
            "The slip, or the rest of the way?",
        ),
        ("D28", "the way over the lead", "D/e", "More lead: more slip, or less?"),
    ),
    "wear": (
        ("D29", "the slip alone", "100*e1/e0", "Does a heavier tire wear faster?"),
        ("D30", "the load alone", "100*F1/F0", "Does more slip wear faster?"),
        ("D31", "the two cases swapped", "10000/wear", "Which case counts 100?"),
        ("D32", "a ratio, not an index of 100", "wear/100", "What does the first case count?"),
    ),
    "lb": (
        (
            "N1",
            "the factor the wrong way round",
            "W*0.45359237",
            "A pound is less than a kilogram. Does the number grow or shrink?",
        ),
        (
            "N3",
            "the factor from pounds of force to newtons",
            "W*4.4482216",
            "Kilograms to pounds: are newtons in it?",
        ),
        ("N9", "kilograms times two and a half", "W*2.5", "How many pounds are a kilogram?"),
    ),
    "kg": (
        (
            "N1",
            "the factor the wrong way round",
            "W/0.45359237",
            "A kilogram is more than a pound. Does the number grow or shrink?",
        ),
        (
            "N3",
            "the factor from pounds of force to newtons",
            "W*4.4482216",
            "Pounds to kilograms: are newtons in it?",
        ),
    ),
    "psi": (
        (
            "N7",
            "the factor the wrong way round",
            "I*6.8947573",
            "One psi is about 6.9 kPa. Does the number grow or shrink?",
        ),
        ("N10", "a tenth", "I/10", "How many kilopascals are one psi?"),
    ),
    "Fn": (
        ("N11", "the kilograms as they stand", "W", "What force does a kilogram press with?"),
        (
            "N12",
            "divided by g",
            "W/9.80665",
            "Is a newton more or less than the weight of a kilogram?",
        ),
    ),
}
