"""Works rows of open.csv again with PHREEQC and says how far the file is off.

    python3 -m venv venv
    venv/bin/pip install phreeqc==1.1.1
    venv/bin/python remake.py              # every tenth row of the open.csv beside this file
    venv/bin/python remake.py --all FILE   # every row of another

Taken from a row: the source water, the salts, the acid or base, and its dose or the pH to reach.
Worked from these alone and compared: carbon and chloride of the water; pH, conductivity and the
indices of brushite and gypsum before and after the dose; totals of the dosed solution; its pH in
air; and the dose that reaches the given pH. Prints the largest difference of each column; exit code
1 if a pH is off by more than 0.01, or a dose by more than 1 % and 0.002 mmol/L.

Database Amm.dat, which comes with the package, and three additions: citrate and acetate as in its
minteq.v4.dat; brushite of Gregory, Moreno & Brown 1970 (25 degC) with the heat that minteq.v4.dat
gives it; nitrate cannot be reduced. Conductivities with citric acid are left out, since the
mobility of its ions is a guess.
"""

import argparse
import csv
import sys
from importlib.metadata import version
from pathlib import Path

from phreeqc import Phreeqc

TOTALS = ["Ca", "Mg", "K", "Na", "P", "S", "Cl"]
# The mobility (-dw, m2/s) of acetate is its limiting conductivity, 40.9 S cm2/mol.
DATABASE = f"""
SOLUTION_MASTER_SPECIES
 Cit Cit-3 2 189.102 189.102
 Ace Ace- 1 59.045 59.045
SOLUTION_SPECIES
2 NO3- + 12 H+ + 10 e- = N2 + 6 H2O; -log_k -500
NO3- + 2 H+ + 2 e- = NO2- + H2O; -log_k -500
Cit-3 = Cit-3; -log_k 0
H+ + Cit-3 = HCit-2; -log_k 6.396; -delta_h 3.3472 kJ
2 H+ + Cit-3 = H2Cit-; -log_k 11.157; -delta_h 1.297 kJ
3 H+ + Cit-3 = H3Cit; -log_k 14.285; -delta_h -2.7614 kJ
Ca+2 + Cit-3 = CaCit-; -log_k 4.87; -delta_h -8.368 kJ
Ca+2 + Cit-3 + H+ = CaHCit; -log_k 9.26; -delta_h -0.8368 kJ
Ca+2 + Cit-3 + 2 H+ = CaH2Cit+; -log_k 12.257
Mg+2 + Cit-3 = MgCit-; -log_k 4.89; -delta_h 8.368 kJ
Mg+2 + Cit-3 + H+ = MgHCit; -log_k 8.91; -delta_h 3.3472 kJ
Mg+2 + Cit-3 + 2 H+ = MgH2Cit+; -log_k 12.2
K+ + Cit-3 = KCit-2; -log_k 1.1; -delta_h 5.4392 kJ
Na+ + Cit-3 = NaCit-2; -log_k 1.03; -delta_h -2.8033 kJ
Ace- = Ace-; -log_k 0; -dw 1.09e-9
H+ + Ace- = HAce; -log_k 4.757; -delta_h 0.41 kJ
Ca+2 + Ace- = CaAce+; -log_k 1.18; -delta_h 4 kJ
Mg+2 + Ace- = MgAce+; -log_k 1.27
PHASES
Brushite; CaHPO4:2H2O = Ca+2 + HPO4-2 + 2 H2O; -log_k -6.59; -delta_h 8.23 kJ
Given_pH; H+ = H+; -log_k 0
SELECTED_OUTPUT
 -reset false
 -high_precision true
USER_PUNCH
 -headings pH SC brushite gypsum left C {" ".join(TOTALS)}
 10 PUNCH -LA("H+"), SC, SI("Brushite"), SI("Gypsum"), EQUI("Given_pH"), TOT("C")
 20 PUNCH {", ".join(f'TOT("{x}")' for x in TOTALS)}
END
"""
# Column (mg/kg of water): what stands before and after its number in PHREEQC's input.
WATER = {
    "Ca_mgL": ("Ca", ""),
    "Mg_mgL": ("Mg", ""),
    "Na_mgL": ("Na", ""),
    "K_mgL": ("K", ""),
    "SO4_mgL": ("S(6)", "as SO4"),
    "NO3_mgL": ("N(5)", "as NO3"),
    "alk_mgL_CaCO3": ("Alkalinity", "as CaCO3"),
    "Cl_mgL": ("Cl", "charge"),  # a first guess: made up to neutral
}
# Column (mg/kg of water): formula and g/mol. Amm is NH3. The water of the crystals counts in the
# mass but is not added to the solution, whose amounts are per kg of water.
SALTS = {
    "calcium_nitrate_4h2o": ("Ca(NO3)2", 236.146),
    "calcium_nitrate_double": ("Ca5(NO3)11AmmH", 1080.6),
    "potassium_nitrate": ("KNO3", 101.102),
    "monopotassium_phosphate": ("KH2PO4", 136.084),
    "dipotassium_phosphate": ("K2HPO4", 174.174),
    "magnesium_sulfate_7h2o": ("MgSO4", 246.466),
    "potassium_sulfate": ("K2SO4", 174.252),
    "magnesium_nitrate_6h2o": ("Mg(NO3)2", 256.401),
    "monoammonium_phosphate": ("AmmH3PO4", 115.024),
    "ammonium_nitrate": ("AmmHNO3", 80.043),
    "ammonium_sulfate": ("(AmmH)2SO4", 132.133),
    "calcium_chloride_2h2o": ("CaCl2", 147.008),
}
# The bases are named by their formulas in the file.
REAGENTS = {
    "phosphoric": "H3PO4",
    "nitric": "HNO3",
    "sulfuric": "H2SO4",
    "citric": "H3Cit",
    "acetic": "HAce",
    "lime": "Ca(OH)2",
}
AIR = "EQUILIBRIUM_PHASES\nCO2(g) -3.38 10"


def run(phreeqc, *lines):
    """Runs PHREEQC's input and returns what the solution at its end has under each heading."""
    text = "\n".join([*lines, "END"])
    if phreeqc.RunString(text):
        raise RuntimeError(f"{phreeqc.GetErrorString()}\n{text}")
    return {name: values[-1] for name, values in phreeqc.GetSelectedOutput().items()}


def inputs(row):
    """Of a row, as PHREEQC's input: the water, the salts of the mix, the reagent, and the air."""
    ions = [f"{name} {row[key]} {form}" for key, (name, form) in WATER.items()]
    head = ["SOLUTION 1", "units mg/kgw", f"temp {row['temp_C']}", f"pH {row['water_pH']}"]
    amounts = [(name, float(row[key]) / mass) for key, (name, mass) in SALTS.items()]
    salts = [f"{name} {mmol!r}" for name, mmol in amounts if mmol] or ["H2O 0"]
    reagent = REAGENTS.get(row["reagent"], row["reagent"])
    return [*head, *ions], salts, reagent, AIR if row["co2"] == "open" else ""


def rework(phreeqc, row):
    """What PHREEQC makes of a row, by the columns of the file."""
    source, salts, reagent, air = inputs(row)
    dose = ["REACTION", f"{reagent} {row['dose_mmolL']}", "1 mmol"]

    water = run(phreeqc, *source)
    before = run(phreeqc, "USE solution 1\nREACTION", *salts, "1 mmol", air, "SAVE solution 2")
    after = run(phreeqc, "USE solution 2", *dose, air, "SAVE solution 3")
    worked = {
        "Cl_mgL": water["Cl"] * 35453,
        "water_TIC_mmolL": water["C"] * 1000,
        "pH_before": before["pH"],
        "pH_after": after["pH"],
        "pH_after_then_air": run(phreeqc, "USE solution 3", AIR)["pH"],
    }
    for number, name in enumerate(["water", "before", "after"], 1):
        if name != "after" or row["reagent"] != "citric":
            warm = run(phreeqc, f"USE solution {number}", "REACTION_TEMPERATURE", "25")
            worked[f"EC25_{name}_mScm"] = warm["SC"] / 1000
    for solid in ["brushite", "gypsum"]:
        worked[f"SI_{solid}_before"] = before[solid]
        worked[f"SI_{solid}_after"] = after[solid]
    for element in TOTALS:
        worked[f"{element}_mmolL"] = after[element] * 1000
    if row["kind"] == "target":
        # Reagent is taken from a store of 10 mol until the pH is the given one.
        store = f"Given_pH -{row['target_pH']} {reagent} 10"
        reached = run(phreeqc, "USE solution 2", air or "EQUILIBRIUM_PHASES", store)
        worked["dose_mmolL"] = (10 - reached["left"]) * 1000
    return worked


def too_far(key, off, theirs):
    if key.startswith("pH"):
        return off > 0.01
    return key == "dose_mmolL" and off > max(0.01 * theirs, 0.002)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("file", nargs="?", default=Path(__file__).with_name("open.csv"))
    parser.add_argument("--all", action="store_true", help="every row, not every tenth")
    arguments = parser.parse_args()
    if version("phreeqc") != "1.1.1":
        sys.exit(f"This wants phreeqc 1.1.1 and found {version('phreeqc')}.")
    with open(arguments.file, newline="") as file:
        rows = list(csv.DictReader(file))[:: 1 if arguments.all else 10]

    phreeqc = Phreeqc()
    if phreeqc.LoadBuiltInDatabase("Amm.dat") or phreeqc.RunString(DATABASE):
        sys.exit(phreeqc.GetErrorString())
    compared, failed = {}, []
    for row in rows:
        for key, ours in rework(phreeqc, row).items():
            if row[key] == "":  # an index without its ions
                continue
            theirs = float(row[key])
            line = (abs(ours - theirs), row["case_id"], f"{ours:.5f} for {row[key]}")
            compared.setdefault(key, []).append(line)
            if too_far(key, line[0], theirs):
                failed.append(f"{row['case_id']} {key}: {line[2]}")

    print("column              rows  largest difference")
    for key, lines in compared.items():
        off, case, what = max(lines)
        print(f"{key:20}{len(lines):4}  {off:.5f}  {case}: {what}")
    for line in failed:
        print(f"too far off: {line}")
    sys.exit(1 if failed or not compared else 0)


if __name__ == "__main__":
    main()
