"""The season model's daily step in numpy, vectorised over runs: the yardstick of bench/season.sh.

Same equations as crates/season (drivers.rs, engine.rs), in double precision, written the ordinary
way: one array element a run, one Python loop over days. Two forms are timed: `plain` works the
day's weather out for every run, as one would write it first; `table` works it out once per source
day and only looks it up, as the Rust version does.

usage: season_numpy.py WEATHER.csv [RUNS]
"""

import csv
import datetime
import json
import math
import sys
import time

import numpy as np

LATITUDE = 40.4
NECTAR = [0.00, 0.00, 0.10, 0.60, 1.50, 2.40, 2.20, 1.40, 0.60, 0.05, 0.00, 0.00]
POLLEN = [0.00, 0.10, 0.60, 1.00, 1.00, 1.00, 0.80, 0.80, 0.60, 0.20, 0.00, 0.00]
FROM = datetime.date(2026, 10, 1)
DAYS = 365
HEATING = 22.69 * 0.12**0.521 * 21.1 / 3600 * 86400 / 12.7e6 / 19


def ramp(x, a, b):
    return np.clip((x - a) / (b - a), 0.0, 1.0)


def day_length(date):
    n = (date - datetime.date(2000, 1, 1)).days
    g = math.radians(357.528 + 0.9856003 * n)
    lam = math.radians(280.460 + 0.9856474 * n + 1.915 * math.sin(g) + 0.020 * math.sin(2 * g))
    sin_d = math.sin(math.radians(23.439 - 4e-7 * n)) * math.sin(lam)
    phi = math.radians(LATITUDE)
    c = (math.sin(math.radians(-0.833)) - math.sin(phi) * sin_d) / (
        math.cos(phi) * math.sqrt(1 - sin_d**2)
    )
    return math.degrees(math.acos(max(-1.0, min(1.0, c)))) / 7.5


def monthly(date, table):
    first = date.replace(day=1)
    following = (first + datetime.timedelta(days=32)).replace(day=1)
    through = (date.day - 0.5) / (following - first).days
    m = date.month - 1
    a, b, s = (m - 1, m, through + 0.5) if through < 0.5 else (m, (m + 1) % 12, through - 0.5)
    return table[a] + (table[b] - table[a]) * s


def calendar(date):
    length = day_length(date)
    growing = day_length(date + datetime.timedelta(days=1)) - length
    nectar, pollen = monthly(date, NECTAR), monthly(date, POLLEN)
    return length, growing, nectar, pollen, min(1.0, max(nectar, pollen))


def feel(mean, high, rain, recent, when):
    """What a day's weather means to bees; arrays or single figures."""
    length, growing, nectar, pollen, interest = when
    flight = (
        ramp(high, 10.0, 22.0)
        * ramp(high, 46.0, 36.0)
        / (1.0 + rain / 4.0)
        * 0.87
        * np.minimum(length / 12.0, 1.25)
    )
    season = ramp(recent, -3.0, 14.0) * ramp(length + 15.0 * growing, 8.5, 12.5)
    rest = np.minimum(4.2 * 2.5 ** ((mean - 12.0) / 10.0), 7.0) * 1e-6
    wintering = ramp(season, 0.9, 0.35) * ramp(recent, 20.0, 12.0)
    returning = 0.05 * season if growing > 0 else 0.0 * season
    return (
        rest,
        mean,
        flight * (0.3 + 0.7 * interest),
        1e-4 * flight * nectar,
        9e-5 * flight * pollen,
        season * (0.4 + 0.6 * interest),
        wintering,
        returning,
    )


def load(path):
    rows = []
    for row in csv.DictReader(open(path)):
        date = datetime.date.fromisoformat(row["date"])
        if (date.month, date.day) != (2, 29):
            rows.append((date, float(row["tmin_c"]), float(row["tmax_c"]), float(row["rain_mm"])))
    return rows


def draw_paths(rows, runs, rng):
    """Blocks of 10 to 30 days, each of a random source year at its own time of the year."""
    slot0 = (FROM - datetime.date(FROM.year, 1, 1)).days
    years = len(rows) // 365
    paths = np.empty((runs, DAYS), dtype=np.int64)
    for run in range(runs):
        day = 0
        while day < DAYS:
            block = min(int(rng.integers(10, 31)), DAYS - day)
            slot = (slot0 + day) % 365
            start = int(rng.integers(0, years)) * 365 + slot
            block = min(block, len(rows) - start)
            paths[run, day : day + block] = np.arange(start, start + block)
            day += block
    return paths


def live(rows, paths, draws, table):
    """One year of all runs; `table` of packed rows, or None to work the weather out per run."""
    runs = len(paths)
    mean = np.array([(r[1] + r[2]) / 2 for r in rows])
    high = np.array([r[2] for r in rows])
    rain = np.array([r[3] for r in rows])
    laying, eats, forages, death, bees = draws
    laying, death = 1500.0 * laying, 0.15 * death
    bees = 15000.0 * bees
    winter_share = 0.19
    winter = bees * winter_share
    hive, foragers = (bees - winter) * 0.75, (bees - winter) * 0.25
    laid = np.full((21, runs), 4000.0 / 21)
    eggs, larvae, capped = (np.full(runs, 4000.0 * k / 21) for k in (3, 6, 12))
    honey, unripe, pollen = np.full(runs, 40.0), np.zeros(runs), np.full(runs, 0.5)
    missed, alive = np.zeros(runs), np.ones(runs)
    recent = mean[paths[:, 0]].copy()
    for day in range(DAYS):
        at = paths[:, day]
        if table is None:
            when = calendar(FROM + datetime.timedelta(days=day))
            recent += (mean[at] - recent) / 15.0
            feels = feel(mean[at], high[at], rain[at], recent, when)
        else:
            feels = table[:, at]
        rest, air, flight, nectar_each, pollen_each, season, wintering, returning = feels

        bees = hive + foragers + winter
        food = honey + unripe
        fed = food**2 / (food**2 + 0.25)
        nurses = hive + winter
        slot = day % 21
        new = laying * season * fed * nurses / (nurses + 5000.0) * pollen / (pollen + 0.1)
        emerged = laid[slot].copy()
        hatched, sealed = laid[(slot + 18) % 21], laid[(slot + 12) % 21]
        eggs = np.maximum(eggs + new - hatched, 0.0)
        larvae = np.maximum(larvae + hatched - sealed, 0.0)
        capped = np.maximum(capped + sealed - emerged, 0.0)
        laid[slot] = new
        reared = larvae / 6.0

        pull = 0.25 + 0.25 * (1.0 - fed) - 0.75 * foragers / (bees + 1e-6)
        recruits = np.maximum(pull * np.minimum(flight / 0.3, 1.0) * hive, -foragers)
        to_winter, back = emerged * wintering, winter * returning
        lost = foragers * np.minimum(0.02 + death * flight, 1.0)
        hive_next = alive * np.maximum(hive * 0.99 + emerged - to_winter + back - recruits, 0.0)
        winter_next = alive * np.maximum(
            winter + to_winter - back - winter * (0.0035 + 0.01 * flight), 0.0
        )
        foragers_next = alive * np.maximum(foragers + recruits - lost, 0.0)

        nectar = np.minimum(foragers * nectar_each * forages, np.maximum(60.0 - food, 0.0))
        core = 21.0 + 13.5 * np.minimum((eggs + larvae + capped) / 2000.0, 1.0)
        heating = HEATING * bees**0.521 * np.maximum(core - air, 0.0)
        need = eats * (np.maximum(bees * rest, heating) + 0.114e-3 * reared)
        open_ = unripe + nectar
        eaten = np.minimum(need, honey + open_)
        of_open = np.minimum(eaten, open_)
        ripened = (open_ - of_open) * 0.1
        unripe = open_ - of_open - ripened
        honey = np.maximum(honey + ripened - (eaten - of_open), 0.0)
        brought = foragers * pollen_each * np.maximum(1.0 - pollen / 2.0, 0.0)
        pollen = np.maximum(pollen + brought - 0.13e-3 * reared, 0.0)
        short = need - eaten
        missed = np.where(short > 0, missed + short, 0.0)
        ends = (missed > 2.0 * need) | (bees < 1000.0)
        alive = np.where(ends, 0.0, alive)
        hive, foragers, winter = hive_next, foragers_next, winter_next
        if day == 195:
            spring = honey + unripe
    return spring, alive


def main():
    rows = load(sys.argv[1])
    runs = int(sys.argv[2]) if len(sys.argv) > 2 else 10_000
    rng = np.random.default_rng(1)
    start = time.process_time()
    paths = draw_paths(rows, runs, rng)
    draw_s = time.process_time() - start
    draws = [np.exp(s * rng.standard_normal(runs)) for s in (0.12, 0.2, 0.35, 0.15, 0.2)]
    draws[0] = np.minimum(draws[0], 2000.0 / 1500.0)
    recent, packed = sum(r[1] + r[2] for r in rows[:15]) / 30, []
    for date, low, high, rain in rows:
        mean = (low + high) / 2
        recent += (mean - recent) / 15.0
        packed.append([float(x) for x in feel(mean, high, rain, recent, calendar(date))])
    table = np.array(packed).T.copy()

    def best(form, times=5):
        timed = []
        for _ in range(times):
            start = time.process_time()
            stores, alive = live(rows, paths, draws, form)
            timed.append(time.process_time() - start)
        return min(timed), float(np.median(stores)), float(alive.sum())

    plain_s, stores, alive = best(None)
    table_s, table_stores, table_alive = best(table)
    print(
        json.dumps(
            {
                "colony_years": runs,
                "draw_s": round(draw_s, 4),
                "plain_s": round(plain_s, 4),
                "table_s": round(table_s, 4),
                "alive": alive,
                "spring_stores_kg": round(stores, 3),
                "table_spring_stores_kg": round(table_stores, 3),
                "table_alive": table_alive,
                "numpy": np.__version__,
            }
        )
    )


main()
