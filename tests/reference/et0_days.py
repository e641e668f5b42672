# python3 -m venv venv
# venv/bin/pip install pyet==1.5.0
# venv/bin/python et0_days.py      # writes et0_days.csv beside this file and prints the checks
"""1000 plausible days and their FAO-56 Penman-Monteith reference evapotranspiration.

The weather is made up (fixed seed) and rounded first; then et0_mmd is worked by pyet
(`pyet.pm_fao56`) from the rounded numbers: albedo 0.23, es from tmax and tmin, ea from rhmax at
tmin and rhmin at tmax (eq. 17), Rnl from the clear-sky radiation (0.75 + 2e-5 altitude) Ra, soil
heat flux 0. The same days are worked by the equations of FAO-56 written out below; the script
fails if the two differ by 0.02 mm/day.

Three limits keep every day where all readings of FAO-56 agree: solar radiation is 0.35 to 0.98 of
clear sky (so no floor or cap on Rs/Rso acts), wind is at least 0.5 m/s, and ET0 is above 0.05 mm.
Days with tmin below -10 degC are not kept either.
"""

import csv
import math
import random
from importlib.metadata import version
from pathlib import Path

import pandas
import pyet

PYET, DAYS, SEED = "1.5.0", 1000, 56
COLUMNS = [
    "tmin_C", "tmax_C", "rhmin_pct", "rhmax_pct", "wind_2m_ms", "solar_MJm2d",
    "latitude_deg", "altitude_m", "day_of_year", "et0_mmd",
]


def saturation(t):
    """Saturation vapour pressure (kPa) at t (degC), eq. 11."""
    return 0.6108 * math.exp(17.27 * t / (t + 237.3))


def extraterrestrial(latitude, day):
    """Ra (MJ/m2/day), eqs. 21 to 25; only for latitudes where the sun rises and sets."""
    phi = math.radians(latitude)
    distance = 1 + 0.033 * math.cos(2 * math.pi * day / 365)
    declination = 0.409 * math.sin(2 * math.pi * day / 365 - 1.39)
    sunset = math.acos(-math.tan(phi) * math.tan(declination))
    return 24 * 60 / math.pi * 0.0820 * distance * (
        sunset * math.sin(phi) * math.sin(declination)
        + math.cos(phi) * math.cos(declination) * math.sin(sunset)
    )


def clear_sky(latitude, altitude, day):
    """Rso (MJ/m2/day), eq. 37."""
    return (0.75 + 2e-5 * altitude) * extraterrestrial(latitude, day)


def by_hand(tmin, tmax, rhmin, rhmax, wind, solar, latitude, altitude, day):
    """ET0 (mm/day), eqs. 6 to 13, 17 and 37 to 40."""
    t = (tmin + tmax) / 2
    slope = 4098 * saturation(t) / (t + 237.3) ** 2
    gamma = 0.665e-3 * 101.3 * ((293 - 0.0065 * altitude) / 293) ** 5.26
    es = (saturation(tmin) + saturation(tmax)) / 2
    ea = (saturation(tmin) * rhmax + saturation(tmax) * rhmin) / 200
    black = 4.903e-9 * ((tmax + 273.16) ** 4 + (tmin + 273.16) ** 4) / 2
    cloud = 1.35 * min(solar / clear_sky(latitude, altitude, day), 1) - 0.35
    net = (1 - 0.23) * solar - black * (0.34 - 0.14 * math.sqrt(ea)) * cloud
    top = 0.408 * slope * net + gamma * 900 / (t + 273) * wind * (es - ea)
    return top / (slope + gamma * (1 + 0.34 * wind))


def by_library(tmin, tmax, rhmin, rhmax, wind, solar, latitude, altitude, day):
    """ET0 (mm/day) by pyet, a day at a time, since it takes one latitude and altitude a call."""
    date = pandas.to_datetime([f"2001-{day:03d}"], format="%Y-%j")  # no leap year

    def series(x):
        return pandas.Series([float(x)], index=date)

    et0 = pyet.pm_fao56(
        tmean=series((tmin + tmax) / 2), tmin=series(tmin), tmax=series(tmax),
        rhmin=series(rhmin), rhmax=series(rhmax), wind=series(wind), rs=series(solar),
        elevation=float(altitude), lat=math.radians(latitude), albedo=0.23, clip_zero=False,
    )
    return float(et0.iloc[0])


def day(chance):
    """One day's weather, rounded, in the order of COLUMNS without the last."""
    latitude = round(chance.uniform(-55, 60), 2)
    altitude = round(3000 * chance.random() ** 3)
    number = chance.randint(1, 365)
    sky = chance.uniform(0.35, 0.98)
    rso = clear_sky(latitude, altitude, number)
    season = math.sin(2 * math.pi * number / 365 - 1.7) * latitude / 60  # 1 in a northern July
    sea_level = 28 - 0.0055 * latitude**2 + 13 * season
    mean = sea_level - 0.0065 * altitude + chance.gauss(0, 4)
    swing = chance.uniform(3, 8) + 10 * (sky - 0.35)
    tmin, tmax = round(mean - swing / 2, 1), round(mean + swing / 2, 1)
    dew = tmin - chance.uniform(0, 1) ** 2 * 12
    rhmax = round(min(100, 100 * saturation(dew) / saturation(tmin)))
    rhmin = round(min(rhmax, 100 * saturation(dew + chance.uniform(-2, 1)) / saturation(tmax)))
    wind = round(min(8, 0.5 + chance.expovariate(1 / 1.8)), 1)
    return tmin, tmax, rhmin, rhmax, wind, round(sky * rso, 1), latitude, altitude, number


def main():
    assert version("pyet") == PYET, f"made with pyet {PYET}, this is {version('pyet')}"
    # FAO-56 example 18: Uccle, 6 July; 3.88 mm/day
    example = (12.3, 21.5, 63, 84, 2.078, 22.07, 50.80, 100, 187)
    assert abs(by_hand(*example) - 3.88) < 0.01 and abs(by_library(*example) - 3.88) < 0.01

    chance, rows, largest, left_out = random.Random(SEED), [], (0, None), 0
    while len(rows) < DAYS:
        weather = day(chance)
        ratio = weather[5] / clear_sky(*weather[6:])
        et0 = by_library(*weather)
        if not 0.35 <= ratio <= 0.98 or et0 <= 0.05 or weather[0] < -10:
            left_out += 1
            continue
        largest = max(largest, (abs(et0 - by_hand(*weather)), weather))
        rows.append((*weather, f"{et0:.4f}"))

    assert largest[0] < 0.02
    with (Path(__file__).parent / "et0_days.csv").open("w", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([COLUMNS, *rows])
    for name, values in zip(COLUMNS, zip(*rows)):
        values = sorted(map(float, values))
        print(f"{name:13} {values[0]:8.2f} to {values[-1]:8.2f}, median {values[DAYS // 2]:8.2f}")
    print(f"{DAYS} days written, {left_out} drawn days left out")
    print(f"largest difference from FAO-56 by hand: {largest[0]:.1e} mm/day, on {largest[1]}")


if __name__ == "__main__":
    main()
