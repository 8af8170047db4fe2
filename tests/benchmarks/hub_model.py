"""The heat of an unbraked trailer hub from first principles, for checks and simulation only.

It is independent of the rulebook: the heat transfer comes from the ``ht`` library, fins and lumped
capacity from Incropera, Fundamentals of Heat and Mass Transfer, 6th ed., bearing friction from
Palmgren as given in Harris, Rolling Bearing Analysis (from memory), viscosity from ASTM D341.
Hub sizes are typical proportions, from memory. It is not checked against a measured hub.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ht.conv_external import Nu_cylinder_Churchill_Bernstein

SIGMA = 5.670374e-8  # W/m2K4, CODATA
EMISSIVITY = 0.8
WHEEL_K = 50.0  # W/mK, steel


@dataclass(frozen=True)
class Hub:
    """Sizes in metres, bores and cups of inner and outer bearing in mm, capacity in J/K."""

    inboard: tuple[float, float]  # barrel diameter, length
    outboard: tuple[float, float]
    flange: float
    seal: float
    disc: float
    rim: float
    tire: float
    bearings: tuple[tuple[float, float], tuple[float, float]]
    capacity: float
    load: float  # N on one wheel


HUBS = {
    "bore_25": Hub(
        (0.064, 0.045), (0.050, 0.060), 0.130, 0.0381, 0.0030, 0.140, 20.5 * 0.0254,
        ((25.4, 50.292), (25.4, 50.292)), 2319.0, 500 * 4.448222,
    ),
    "bore_27": Hub(
        (0.066, 0.050), (0.052, 0.065), 0.140, 0.0381, 0.0030, 0.145, 21.9 * 0.0254,
        ((26.988, 50.292), (26.988, 50.292)), 2604.0, 1000 * 4.448222,
    ),
    "bore_32": Hub(
        (0.074, 0.050), (0.050, 0.065), 0.140, 0.0445, 0.0030, 0.150, 23.0 * 0.0254,
        ((31.75, 59.131), (19.05, 45.237)), 2770.0, 1000 * 4.448222,
    ),
    "bore_35": Hub(
        (0.080, 0.055), (0.056, 0.075), 0.145, 0.0437, 0.0035, 0.175, 27.1 * 0.0254,
        ((34.988, 59.974), (26.988, 50.292)), 3789.0, 1750 * 4.448222,
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Draw:
    """What differs from hub to hub: factors on friction, flow and capacity, seal drag in N m."""

    friction: float = 1.0
    seal: float = 0.15
    outboard_speed: float = 0.5
    inboard_speed: float = 0.35
    conductance: float = 1.0
    capacity: float = 1.0
    tire_heat: float = 0.0
    extra_drag: float = 0.0


def air(kelvin: float) -> tuple[float, float, float]:
    """Kinematic viscosity m2/s, conductivity W/mK and Prandtl number of dry air at 1 atm."""
    ratio = kelvin / 300
    nu = 1.572e-5 * ratio**1.780
    return nu, 0.02634 * ratio**0.8425, nu / (2.2216e-5 * ratio**1.831)


def grease(celsius: float) -> float:
    """Base-oil viscosity, mm2/s: 150 at 40 C, 14.5 at 100 C (ASTM D341)."""
    low, high = math.log10(math.log10(150.7)), math.log10(math.log10(15.2))
    slope = (low - high) / (math.log10(373.15) - math.log10(313.15))
    a = low + slope * math.log10(313.15)
    return float(10 ** (10 ** (a - slope * math.log10(celsius + 273.15))) - 0.7)


def _radiation(film: float) -> float:
    return 4 * EMISSIVITY * SIGMA * film**3


def _barrel(speed: float, diameter: float, film: float) -> float:
    nu, k, pr = air(film)
    return float(Nu_cylinder_Churchill_Bernstein(speed * diameter / nu, pr)) * k / diameter


def _plate(speed: float, length: float, film: float) -> float:
    nu, k, pr = air(film)
    return 0.037 * (speed * length / nu) ** 0.8 * pr ** (1 / 3) * k / length


def conductance(hub: Hub, speed: float, film: float, draw: Draw) -> dict[str, float]:
    """Parts of the heat path to the air, W/K, and the coefficients behind them, W/m2K."""
    rad = _radiation(film)
    out, into = draw.outboard_speed * speed, draw.inboard_speed * speed
    h_out = _barrel(out, hub.outboard[0], film) + rad
    h_in = _barrel(into, hub.inboard[0], film) + rad
    h_flange = _plate(into, hub.flange, film) + rad
    h_wheel = _plate(into, 2 * hub.rim, film) + rad
    ring = math.pi * ((hub.flange / 2) ** 2 - (hub.inboard[0] / 2) ** 2)
    barrels = h_in * math.pi * hub.inboard[0] * hub.inboard[1]
    barrels += h_out * math.pi * hub.outboard[0] * (hub.outboard[1] + hub.outboard[0] / 4)
    g_hub = barrels + h_flange * ring
    r1, r2 = hub.flange / 2, hub.rim
    reach = (r2 - r1) * (1 + 0.35 * math.log(r2 / r1))  # Schmidt's annular fin
    m = math.sqrt(2 * h_wheel / (WHEEL_K * hub.disc)) * reach
    efficiency = math.tanh(m) / m
    fin = efficiency * h_wheel * 0.85 * 2 * math.pi * (r2**2 - r1**2)
    g_wheel = 1 / (1 / fin + 1 / (2500 * ring))
    h_axle = _barrel(into, 0.045, film) + rad
    section = math.pi * (0.045 - 0.0048) * 0.0048
    g_axle = math.sqrt(h_axle * math.pi * 0.045 * WHEEL_K * section)
    return {
        "h_outboard": h_out, "h_inboard": h_in, "h_wheel": h_wheel, "h_radiation": rad,
        "efficiency": efficiency, "G_hub": g_hub, "G_wheel": g_wheel, "G_axle": g_axle,
        "G": (g_hub + g_wheel + g_axle) * draw.conductance,
    }  # fmt: skip


def bearing_torque(hub: Hub, rpm: float, celsius: float) -> float:
    """Palmgren's two terms for both bearings, N m; 60 percent of the load on the inner one."""
    churn = (grease(celsius) * rpm) ** (2 / 3)
    total = 0.0
    for (bore, cup), share in zip(hub.bearings, (0.6, 0.4), strict=True):
        dm = (bore + cup) / 2
        total += 1e-7 * 6 * churn * dm**3 + 0.0004 * share * hub.load * dm
    return total / 1000


def steady(hub: Hub, speed: float, air_c: float, draw: Draw = Draw()) -> dict[str, float]:
    """Steady state at ``speed`` m/s in still air of ``air_c``: torques, power W, rise K, tau s."""
    omega = speed / (0.97 * hub.tire / 2)
    rpm = omega * 60 / (2 * math.pi)
    seal = draw.seal * (hub.seal / 0.040) ** 2
    rise = 10.0
    for _ in range(60):
        parts = conductance(hub, speed, air_c + rise / 2 + 273.15, draw)
        bearings = bearing_torque(hub, rpm, air_c + rise) * draw.friction
        power = (bearings + seal + draw.extra_drag) * omega
        rise += 0.5 * (power / parts["G"] + draw.tire_heat - rise)
    tau = hub.capacity * draw.capacity / parts["G"]
    return parts | {
        "omega": omega, "rpm": rpm, "bearings": bearings, "seal": seal, "power": power,
        "rise": rise, "tau": tau,
    }  # fmt: skip


def rise_at_stop(
    hub: Hub,
    speed: float,
    air_c: float,
    metres: float,
    parked_s: float,
    cooling_s: float,
    draw: Draw,
) -> float:
    """Rise over the air, K, after ``metres`` at ``speed`` and ``parked_s`` of cooling."""
    run = steady(hub, speed, air_c, draw)
    reached = 1 - math.exp(-metres / speed / run["tau"])
    return float(run["rise"] * reached * math.exp(-parked_s / cooling_s))
