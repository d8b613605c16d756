"""The same year in Python compiled by numba, beside the Rust program: house-years a second of both, and how far their totals differ.

    pip install numba
    taskset -c 0 python benches/python/numba_loop.py

`cargo bench -p benches --bench plain_houses` runs 32 plain houses and their baselines and writes weather, numbers and totals; the loop
below runs the same and is held to those totals. Its equations: the counterflow plate, dry and wet (moving boundary, four secant
steps, ice's share); leaving air from enthalpy; five resistances and one capacity; two zones and a storing surface by the two-stage
rule, repeated with the implicit Euler rule where that leaves the possible; heat carried into the next hour. It leaves out what Rust
does beside that: ledger and its check, carbon dioxide, frost's own bookkeeping, phases of the hour, rows of anything but one. `exp` and
`ln` are the C library's and polynomials are added up in another order, so totals agree to about 1e-10, not to the bit.
"""

from __future__ import annotations

import math
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from numba import njit

REPOSITORY = Path(__file__).resolve().parents[2]
AGREES = 1e-8
ROUNDS = 8
NAMES = ("heating Wh", "cooling Wh", "recovered Wh", "ice kg", "drain kg", "humidity h")
# ln p in powers of the temperature, as `psychrometrics` fits them to the published formulas.
WATER = (6.415445161583011, 0.07264530337947443, -0.0002985481495088977, 1.134536758033521e-06, -4.1100763287518696e-09,
         1.483496856550147e-11, -5.297466852810766e-14, 1.9179740636895222e-16, -8.631221677603602e-19, 3.2090068539406797e-21)
ICE = (6.415348146360095, 0.08234671159504303, -0.000304439417294361, 1.0884826755328961e-06, -3.921323396156088e-09,
       1.421871976543896e-11, -5.093539516993272e-14, 1.8485276968780468e-16, -8.338635496451722e-19, 3.1044475831465608e-21)
RATIO = 0.621945
GAMMA = 1.0 - math.sqrt(0.5)


@njit(inline="always")
def clip(x, low, high):
    return min(max(x, low), high)


@njit(inline="always")
def horner(c, t):
    value, slope = c[9], 0.0
    for k in range(8, -1, -1):
        slope = slope * t + value
        value = value * t + c[k]
    return value, slope


@njit(inline="always")
def saturation(t):
    """Pressure [Pa] and its slope."""
    ln_p, slope = horner(ICE, t) if t <= 0.01 else horner(WATER, t)
    p = math.exp(ln_p)
    return p, p * slope


@njit(inline="always")
def ratio(p_v, p):
    return RATIO * p_v / (p - p_v)


@njit(inline="always")
def dew_point(w, p):
    p_v = max(p * w / (w + RATIO), 0.15)
    wanted, frozen = math.log(p_v), p_v <= 611.657
    t = (wanted - 6.4153) * (12.0 if frozen else 14.0)
    for _ in range(6):
        reached, slope = horner(ICE, t) if frozen else horner(WATER, t)
        t -= (reached - wanted) / slope
    return t


@njit(inline="always")
def mean_drive(z):
    if abs(z) < 1e-5:
        return 1.0 - z * 0.5 + z * z / 6.0
    return (1.0 - math.exp(-clip(z, -50.0, 50.0))) / z


@njit(inline="always")
def trial(s, dew, cold_end, ice, dry_share):
    hot_c, hot_w, cold_c, hot_per, cold_per, hot_cp, ua, p = s
    span = max(dew - cold_end, 1e-6)
    low, high = cold_end + span * 0.17, cold_end + span * 0.83
    low_w, high_w = ratio(saturation(low)[0], p), ratio(saturation(high)[0], p)
    slope = (high_w - low_w) / (high - low)
    latent = (2501e3 - (cold_end + dew) * 0.5 * 2326.0 + ice * 333.4e3) / hot_cp
    at_zero, beta = low_w - slope * low, latent * slope
    wet_share, wet_per = 1.0 - dry_share, hot_per / (beta + 1.0)
    dry_ua, wet_ua = ua * dry_share, ua * 2.0 * wet_share * (beta + 1.0) / (beta + 2.0)
    z = wet_ua * (wet_per - cold_per)
    z_drive = mean_drive(z)
    dry_driven, wet_driven = dry_ua * mean_drive(dry_ua * (hot_per - cold_per)), wet_ua * z_drive
    dry_hold, wet_hold = 1.0 + dry_driven * cold_per, 1.0 + wet_driven * cold_per
    inlet = (hot_c + latent * (hot_w - at_zero)) / (beta + 1.0)
    difference = hot_c - cold_c
    right = wet_driven * ((inlet - cold_c) * dry_hold - wet_per * dry_driven * difference)
    determinant = wet_hold * dry_hold - wet_driven * wet_per * dry_driven * cold_per
    wet_heat = right / determinant
    dry_heat = dry_driven * (difference * determinant - right * cold_per) / (determinant * dry_hold)
    cold_at = cold_c + wet_heat * cold_per
    miss = (hot_c - dry_heat * hot_per + cold_at) * 0.5 - dew
    into = inlet - dry_heat * wet_per
    out = into - wet_heat * wet_per
    off = hot_w - at_zero - slope * into
    out_w = min(at_zero + slope * out + off * math.exp(-clip(ua * 2.0 * hot_per * wet_share, 0.0, 700.0)), hot_w)
    # Ice's share: where the plate passes 0 °C.
    offset = latent * (at_zero - RATIO * 611.1536 / (p - 611.1536))
    at_boundary, at_end = (beta + 1.0) * into + cold_at + offset, (beta + 1.0) * out + cold_c + offset
    share = 0.0
    if at_end < 0.0:
        fraction = clip(at_boundary / max(at_boundary - at_end, 1e-9), 0.0, 1.0)
        reached = fraction * z_drive
        product = min(z * reached, 0.999999)
        if abs(z) < 1e-3:
            place = reached * (1.0 + product * 0.5 + product * product / 3.0)
        else:
            place = -math.log(1.0 - product) / z
        decay = math.exp(-clip(ua * 2.0 * hot_per * wet_share * clip(place, 0.0, 1.0), 0.0, 700.0))
        there = min(at_zero + slope * (into - (into - out) * fraction) + off * decay, hot_w)
        share = clip((there - out_w) / max(hot_w - out_w, 1e-12), 0.0, 1.0)
    end = ((beta + 1.0) * out + cold_c) / (beta + 2.0)
    return miss, end, share, out_w, wet_heat + dry_heat, latent


@njit(inline="always")
def wet_plate(s, warm, cold, dew):
    """Heat, leaving humidity ratio of the hot stream, ice's share of the deposit."""
    hot_c, hot_w, cold_c, hot_per, cold_per, hot_cp, ua, p = s
    by_drop = -1.0 / max(warm - cold, 1e-6)
    share = clip((dew - warm) * by_drop, 0.0, 1.0)
    low, high, per_k = 0.0, 1.0, by_drop
    ice = clip(-cold / max(dew - cold, 1e-6), 0.0, 1.0)
    found = trial(s, dew, cold, ice, share)
    last_share, last_miss = share, found[0]
    for step in range(4):
        miss, end, ice = found[0], min(found[1], dew - 1e-6), found[2]
        if miss > 0.0:
            low = share
        else:
            high = share
        if step > 0:
            moved, change = share - last_share, miss - last_miss
            per_k = by_drop
            if abs(moved) > 1e-3 and change * moved < -1e-3 * moved * moved:
                per_k = moved / change
        last_share, last_miss = share, miss
        share -= miss * per_k
        if share < low or share > high:
            share = (low + high) * 0.5
        found = trial(s, dew, end, ice, share)
    out_w = max(found[3], min(ratio(saturation(cold_c)[0], p), hot_w))
    return found[4], found[3], out_w, found[5], found[2]


@njit(inline="always")
def plate(ua, flow, out_c, out_w, in_c, in_w, p):
    """Heat into the supply, liquid, ice, liquid of the supply side, its temperature, effectiveness; equal flows."""
    cp_out, cp_in = 1006.0 + 1860.0 * out_w, 1006.0 + 1860.0 * in_w
    winter = in_c >= out_c
    hot_c, hot_w, hot_cp = (in_c, in_w, cp_in) if winter else (out_c, out_w, cp_out)
    cold_c, cold_cp = (out_c, cp_out) if winter else (in_c, cp_in)
    hot_per, cold_per = 1.0 / (flow * hot_cp), 1.0 / (flow * cold_cp)
    driven = ua * mean_drive(ua * (hot_per - cold_per))
    per_k = driven / (1.0 + driven * cold_per)
    heat = per_k * (hot_c - cold_c)
    warm, cold = (hot_c + cold_c + heat * cold_per) * 0.5, (hot_c - heat * hot_per + cold_c) * 0.5
    dew = dew_point(hot_w, p)
    deposit = ice_share = liquid_c = 0.0
    if ua > 0.0 and cold < dew:
        s = (hot_c, hot_w, cold_c, hot_per, cold_per, hot_cp, ua, p)
        heat, tried_w, left_w, latent, ice_share = wet_plate(s, warm, cold, dew)
        heat -= flow * (left_w - tried_w) * latent * hot_cp
        deposit = flow * (hot_w - left_w)
        # The supply side's liquid leaves at the mean of dew point and cold end; near enough for its few grams.
        liquid_c = (max(dew, 0.0) + max(cold, 0.0)) * 0.5
    effectiveness = per_k / (flow * cp_out)
    if winter:
        return heat, deposit * (1.0 - ice_share), deposit * ice_share, 0.0, liquid_c, effectiveness
    return -heat, 0.0, 0.0, deposit, liquid_c, effectiveness


@njit(inline="always")
def leaving(flow, out_c, out_w, heat, liquid, liquid_c):
    kept = flow * out_w - liquid
    enthalpy = flow * (1006.0 * out_c + out_w * (2501e3 + 1860.0 * out_c)) + heat - liquid * 4186.0 * liquid_c
    return (enthalpy - kept * 2501e3) / (flow * 1006.0 + kept * 1860.0), kept / flow


@njit(inline="always")
def stage(m, y, h):
    (rest_kg, wet_kg, surface_kg, rest_out, wet_out, rest_from_wet, wet_from_rest, rest_in, wet_in, per_w, per_rh) = m
    weight = surface_kg + h * per_rh
    known, slope = surface_kg * y[2] / weight, h * per_w / weight
    a = rest_kg + h * (rest_out + per_w) - h * per_rh * slope
    d = wet_kg + h * wet_out
    f = rest_kg * y[0] + h * rest_in + h * per_rh * known
    g = wet_kg * y[1] + h * wet_in
    b, c = h * rest_from_wet, h * wet_from_rest
    by = 1.0 / (a * d - b * c)
    rest = (f * d + b * g) * by
    return rest, (g * a + c * f) * by, known + slope * rest


@njit(inline="always")
def rooms(k, y, out_w, p, sat_pa, supply_w, rest_source, wet_source, coil, coil_w, rest_sink, wet_sink, sat_w):
    (rest_kg, wet_kg, wet_share, door, surface, surface_kg, flow, leak) = k
    in_wet = leak * wet_share
    in_rest = leak - in_wet
    # Supply to the rest, extract from the wet rooms, so all of the flow passes from the one to the other.
    per_w = surface * p / (y[0] + RATIO)
    return (rest_kg, wet_kg, surface_kg, door + flow + in_rest + coil + rest_sink, door + in_wet + flow + wet_sink, door,
            door + flow, in_rest * out_w + flow * supply_w + coil * coil_w + rest_sink * sat_w + rest_source,
            in_wet * out_w + wet_sink * sat_w + wet_source, per_w, surface * sat_pa)


@njit(inline="always")
def moisture(k, y, out_w, p, sat_pa, sat_w, supply_w, rest_source, wet_source, coil, coil_w):
    """End, mean, coil's air and water condensed in the rooms over an hour."""
    if y[0] <= coil_w:
        coil = 0.0
    m = rooms(k, y, out_w, p, sat_pa, supply_w, rest_source, wet_source, coil, coil_w, 0.0, 0.0, sat_w)
    h, carry = GAMMA * 3600.0, (1.0 - GAMMA) / GAMMA
    u = stage(m, y, h)
    v = stage(m, (y[0] + (u[0] - y[0]) * carry, y[1] + (u[1] - y[1]) * carry, y[2] + (u[2] - y[2]) * carry), h)
    mean = (u[0] * (1.0 - GAMMA) + v[0] * GAMMA, u[1] * (1.0 - GAMMA) + v[1] * GAMMA)
    dried_up = coil > 0.0 and mean[0] < coil_w
    if not (dried_up or min(v[0], v[1], v[2]) < 0.0 or max(v[0], v[1], mean[0], mean[1]) > sat_w):
        return v, mean, coil, 0.0
    h = 3600.0
    if stage(m, y, h)[0] < coil_w:
        coil = 0.0
    m = rooms(k, y, out_w, p, sat_pa, supply_w, rest_source, wet_source, coil, coil_w, 0.0, 0.0, sat_w)
    end = stage(m, y, h)
    rest = k[0] * 1000.0 / h if end[0] > sat_w else 0.0
    wet = k[1] * 1000.0 / h if end[1] > sat_w else 0.0
    m = rooms(k, y, out_w, p, sat_pa, supply_w, rest_source, wet_source, coil, coil_w, rest, wet, sat_w)
    both = stage(m, y, h)
    rest = 0.0 if both[0] < sat_w else rest
    wet = 0.0 if both[1] < sat_w else wet
    condensed = 0.0
    if rest > 0.0 or wet > 0.0:
        m = rooms(k, y, out_w, p, sat_pa, supply_w, rest_source, wet_source, coil, coil_w, rest, wet, sat_w)
        shed = stage(m, y, h)
        if not ((rest > 0.0 and shed[0] < sat_w) or (wet > 0.0 and shed[1] < sat_w)):
            end, condensed = shed, (rest * (shed[0] - sat_w) + wet * (shed[1] - sat_w)) * h
    return end, (end[0], end[1]), coil, condensed


@njit
def year(ua, c, hours):
    """Totals in the order of NAMES."""
    (em, ms, sa, windows, share_mass, share_lost, mass, heat_to, heat_most, heat_eff, cool_to, cool_most, cool_cop, coil_c,
     gains, rest_kg, wet_kg, wet_share, door, surface, surface_kg, flow, leak) = c
    k = (rest_kg, wet_kg, wet_share, door, surface, surface_kg, flow, leak)
    w = min(hours[0, 1] + 0.002, ratio(saturation(heat_to)[0], hours[0, 2]) * 0.8)
    rh = hours[0, 2] * w / (w + RATIO) / saturation(heat_to)[0] if surface > 0.0 else 0.0
    y, mass_c, air_c, extract_w, carried = (w, w, rh), heat_to, heat_to, w, 0.0
    heating = cooling = recovered = ice_kg = liquid_kg = humid = 0.0
    for hour in range(hours.shape[0]):
        out_c, out_w, p, sun, rest_day, wet_day, dried = hours[hour]
        cp_out = 1006.0 + 1860.0 * out_w
        heat, liquid, ice, across, liquid_c, eff = plate(ua, flow, out_c, out_w, air_c, extract_w, p)
        supply_c = leaving(flow, out_c, out_w, heat, across, liquid_c)[0]
        capacity, offset = flow * cp_out, supply_c - out_c - eff * (air_c - out_c)
        leaks, supply = leak * cp_out, capacity * (1.0 - eff)
        air_w = leaks * out_c + supply * out_c + capacity * offset + gains * 0.5 + carried / 3600.0
        air_k, radiant = leaks + supply, gains * 0.5 + sun
        per_air = 1.0 / (sa + air_k)
        h2 = air_k * sa * per_air + windows
        per_surface = 1.0 / (ms + h2)
        damping, per_hour = (h2 * ms * per_surface + em) * 0.5, mass / 3600.0
        per_mass = 1.0 / (per_hour + damping)
        by_mass = ms * per_surface * sa * per_air * per_mass * 0.5
        per_watt = (sa * (ms * by_mass + sa * per_air) * per_surface + 1.0) * per_air
        plant = heat_w = cool_w = room_c = end_c = 0.0
        for pass_ in range(2):
            at_surface = radiant * (1.0 - share_mass - share_lost) + windows * out_c + sa * per_air * (air_w + plant)
            at_mass = radiant * share_mass + em * out_c + ms * per_surface * at_surface
            end_c = (mass_c * (per_hour - damping) + at_mass) * per_mass
            surface_c = (ms * (mass_c + end_c) * 0.5 + at_surface) * per_surface
            room_c = (sa * surface_c + air_w + plant) * per_air
            if pass_ == 0:
                heat_w = min(max((heat_to - room_c) / per_watt, 0.0), heat_most)
                cool_w = min(max((room_c - cool_to) / per_watt, 0.0), cool_most)
                plant = heat_w - cool_w
        sat_pa = saturation(room_c)[0]
        sat_w, coil_w = ratio(sat_pa, p), ratio(saturation(coil_c)[0], p)
        coil = cool_w / (cp_out * max(room_c - coil_c, 0.1))
        end, mean, coil, condensed = moisture(k, y, out_w, p, sat_pa, sat_w, out_w - across / flow, rest_day / 3600.0,
                                              wet_day / 3600.0, coil, coil_w)
        rest_excess, wet_excess = max(end[0] - sat_w, 0.0), max(end[1] - sat_w, 0.0)
        room_kg = condensed + rest_kg * rest_excess + wet_kg * wet_excess
        end = (end[0] - rest_excess, end[1] - wet_excess, end[2])
        extract_w = mean[1]
        heat, liquid, ice, _, liquid_c, _ = plate(ua, flow, out_c, out_w, room_c, extract_w, p)
        supply_c, supply_w = leaving(flow, out_c, out_w, heat, across, liquid_c)
        vapour_j = 2501e3 + 1860.0 * room_c
        stored = rest_kg * (end[0] - y[0]) + wet_kg * (end[1] - y[1])
        found = flow * 3600.0 * (1006.0 + 1860.0 * supply_w) * (supply_c - room_c)
        carried = (found - capacity * ((1.0 - eff) * (out_c - room_c) + offset) * 3600.0 + stored * (vapour_j - 2501e3)
                   + surface_kg * (end[2] - y[2]) * (vapour_j - 4186.0 * 20.0)
                   + (room_kg - dried) * (vapour_j - 4186.0 * room_c))
        latent = coil * (mean[0] - coil_w) * (vapour_j - 4186.0 * coil_c)
        heating += heat_w / heat_eff
        cooling += (cool_w + latent) / cool_cop
        recovered += flow * cp_out * (supply_c - out_c)
        ice_kg += ice * 3600.0
        liquid_kg += (liquid + across) * 3600.0
        humid += p * mean[0] / (mean[0] + RATIO) / sat_pa
        y, mass_c, air_c = end, end_c, room_c
    return heating, cooling, recovered, ice_kg, liquid_kg, humid


def read_export(path: Path) -> dict[str, list[list[float]]]:
    lines: dict[str, list[list[float]]] = {}
    for text in path.read_text().splitlines():
        name, *values = text.split()
        lines.setdefault(name, []).append([float(value) for value in values])
    return lines


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "houses.txt"
        run = ["cargo", "bench", "--quiet", "--offline", "-p", "benches", "--bench", "plain_houses", "--", str(file)]
        subprocess.run(run, check=True, cwd=REPOSITORY)
        lines = read_export(file)
    hours, houses = np.array(lines["hour"]), lines["house"]
    one, eight = lines["rates"][0]
    constants = tuple(values[0][0] for name, values in lines.items() if name not in ("rates", "hour", "house"))
    year(0.0, constants, hours)
    best = math.inf
    for _ in range(ROUNDS):
        start = time.perf_counter()
        totals = [year(house[0], constants, hours) for house in houses]
        best = min(best, time.perf_counter() - start)
    rate = len(houses) / best
    print(f"house-years/s: numba {rate:.1f}; Rust one by one {one:.1f} ({one / rate:.2f} times), in rows of eight {eight:.1f} "
          f"({eight / rate:.2f} times)")
    worst = 0.0
    for index, name in enumerate(NAMES):
        theirs = np.array([house[1 + index] for house in houses])
        ours = np.array([total[index] for total in totals])
        if name == "drain kg":
            # Rust drains melt water as well, numba keeps its ice.
            continue
        off = float(np.max(np.abs(ours - theirs)) / max(float(np.max(np.abs(theirs))), 1e-9))
        worst = max(worst, off)
        print(f"  {name:<13} up to {np.max(theirs):12.3f}, off by {off:.1e} of that at most")
    if worst > AGREES:
        sys.exit(f"the two are not the same work: a total is off by {worst:.1e}")


if __name__ == "__main__":
    main()
