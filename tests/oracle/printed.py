"""Figures typed from published sources, for a second opinion that shares no table and no code with the program.

Sources:
- ampacities, sizes 14 to 6: 2018 IRC, Table E3705.1, ICC, page 742 (the values of NEC 2011 to 2023)
- correction by ambient: IRC 2021 E3705.2, as adopted in Colorado
- adjustment by number of conductors: NFPA 70-2017, Table 310.15(B)(3)(a)
- overcurrent of small conductors: NFPA 70-2020, 240.4(D), as the California Electrical Code 2022 has it
- resistances at 75 degC: NFPA 70-2017, Chapter 9, Table 8
- reactances: NFPA 70-2017, Chapter 9, Table 9
- metric conductors at 20 degC: Locke, Guide to the Wiring Regulations (Wiley, 2008), Table 4.1, after BS 6360
- box volumes and volume per conductor: NFPA 70-2017, Tables 314.16(A) and 314.16(B)
- copper-clad aluminum: 62.9 % of copper, three percent under a mixture of 10 % copper and 90 % aluminum at 61 %
- class 2: NFPA 70-2017, Chapter 9, Tables 11(A) and 11(B)
"""

FOOT = 0.3048

#: Size -> amperes in the columns of 60, 75 and 90 degC.
COPPER = {
    "14": (15, 20, 25),
    "12": (20, 25, 30),
    "10": (30, 35, 40),
    "8": (40, 50, 55),
    "6": (55, 65, 75),
}
ALUMINUM = {"12": (15, 20, 25), "10": (25, 30, 35), "8": (35, 40, 45), "6": (40, 50, 55)}

#: Up to this many degC -> factors for the columns of 60, 75 and 90 degC; 0 where the air is not allowed at all.
AMBIENT = (
    (10, 1.29, 1.20, 1.15), (15, 1.22, 1.15, 1.12), (20, 1.15, 1.11, 1.08), (25, 1.08, 1.05, 1.04),
    (30, 1.00, 1.00, 1.00), (35, 0.91, 0.94, 0.96), (40, 0.82, 0.88, 0.91), (45, 0.71, 0.82, 0.87),
    (50, 0.58, 0.75, 0.82), (55, 0.41, 0.67, 0.76), (60, 0.0, 0.58, 0.71), (65, 0.0, 0.47, 0.65),
    (70, 0.0, 0.33, 0.58), (75, 0.0, 0.0, 0.50), (80, 0.0, 0.0, 0.41), (85, 0.0, 0.0, 0.29),
)  # fmt: skip

#: Up to this many current-carrying conductors -> factor.
BUNDLED = ((3, 1.0), (6, 0.8), (9, 0.7), (20, 0.5), (30, 0.45), (40, 0.4))

SMALL_COPPER = {"14": 15, "12": 20, "10": 30}
SMALL_ALUMINUM = {"12": 15, "10": 25}

#: Ratings of fuses and breakers, 240.6(A) as NFPA 70-2017 has them.
RATINGS = (1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100)

#: Least copper for a branch circuit, Table 210.24 of NFPA 70-2017; 10 A from the edition of 2023.
LEAST_COPPER = {10: "14", 15: "14", 20: "12", 25: "10", 30: "10"}

#: Cable type -> column of its insulation, and the column that its ampacity may not pass (334.80; None: no such column).
CABLES = {"NM-B": (2, 0), "NM": (0, 0), "UF-B": (0, 0), "AC": (2, None), "MC": (2, None), "THWN in raceway": (1, None)}
NONMETALLIC = ("NM-B", "NM", "UF-B")

#: Ohm per 1000 ft at 75 degC: (copper solid, copper stranded, aluminum solid, aluminum stranded).
OHM_PER_KFT = {
    "18": (7.77, 7.95, 12.8, 13.1),
    "16": (4.89, 4.99, 8.05, 8.21),
    "14": (3.07, 3.14, 5.06, 5.17),
    "12": (1.93, 1.98, 3.18, 3.25),
    "10": (1.21, 1.24, 2.00, 2.04),
    "8": (0.764, 0.778, 1.26, 1.28),
}
CLAD_SHARE_OF_COPPER = 0.629

#: Ohm per 1000 ft of reactance: (non-metallic, steel).
REACTANCE_PER_KFT = {"14": (0.058, 0.073), "12": (0.054, 0.068), "10": (0.050, 0.063), "8": (0.052, 0.065)}

#: Note to NEC Chapter 9, Table 8, written from 75 degC (note 2, NFPA 70-2017).
ALPHA_COPPER, ALPHA_ALUMINUM = 0.00323, 0.00330

#: mm^2 -> greatest ohm per km at 20 degC.
METRIC_OHM_PER_KM = {"2.5": 7.41, "4": 4.61}
#: mm^2 -> the AWG size that has no less resistance, by which ampacity goes, and the AWG size that has no less metal.
METRIC_AS = {"2.5": ("14", "12"), "4": ("12", "10")}

#: Trade size -> cubic inches.
BOXES = {
    "4 x 1-1/4 octagon": 12.5, "4 x 1-1/2 octagon": 15.5, "4 x 2-1/8 octagon": 21.5,
    "4 x 1-1/2 square": 21.0, "4 x 2-1/8 square": 30.3, "4-11/16 x 2-1/8 square": 42.0,
    "3 x 2 x 2-1/2 device": 12.5, "3 x 2 x 3-1/2 device": 18.0,
}  # fmt: skip

#: Size -> cubic inches for one conductor.
CONDUCTOR = {"18": 1.50, "16": 1.75, "14": 2.00, "12": 2.25, "10": 2.50, "8": 3.00}
