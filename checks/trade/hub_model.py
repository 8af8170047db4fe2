"""The heat of a sound unbraked hub from first principles, step by step.

Speed turns the wheel, friction in bearings and seal makes heat, air along hub, wheel and axle
carries it off; what is left warms the hub. Barrels are cooled after Churchill and Bernstein,
flange and wheel as a turbulent plate; the wheel is an annular fin, the axle an endless one;
bearing friction is Palmgren's with the base oil of ASTM D341. The judgement itself
rests on the spread of sound hubs (``hubs.py``); this chain shows where the middle of it comes from,
and what drag a reading means.
"""

from checks.formula import Expr, convert, exp, fact, is_, limit, ln, quantity, table
from checks.rules import Finding, Limits, Quantity
from checks.trade.hubs import HOT, MODEL, by_size, rise, sized, speed_ratio, unbraked

limits = Limits("hub_model")

CHURCHILL = "Churchill and Bernstein 1977; Incropera, 6th ed., eq. 7.54"
PLATE = "Turbulent flat plate, Incropera, 6th ed., section 7.2"
FIN = "Annular and endless fins, Incropera, 6th ed., section 3.6; Schmidt's approximation"
PALMGREN = "Palmgren, as given in Harris, Rolling Bearing Analysis"
WALTHER = "ASTM D341, the Walther equation"
PI = 3.141592653589793
LN10 = 2.302585092994046  # the law is written in logarithms to the base of ten


def q(
    name: str, unit: str, formula: Expr, source: str = MODEL, standing: str = "computed"
) -> Quantity:
    return Quantity(name, unit, formula, source, standing)


def size(name: str) -> Expr:
    """One measure of the hub, in metres."""
    return by_size(lambda s: convert(limits(f"{name}_{s}"), "mm", "m"))


road_speed = convert(fact("run_speed"), "km_h", "m_s")
warmth = quantity("film_temperature") / limits("air_reference")
nu, k_air, prandtl = (
    quantity("air_viscosity"),
    quantity("air_conductivity"),
    quantity("air_prandtl"),
)
radiation = quantity("radiation_coefficient")


def tanh(x: Expr) -> Expr:
    """Hyperbolic tangent, written so that x stands once."""
    return 1 - 2 / (exp(2 * x) + 1)


def barrel(flow: str, diameter: Expr) -> Expr:
    """Heat transfer coefficient of a barrel in cross flow, radiation included."""
    reynolds = road_speed * limits(flow) * diameter / nu
    nusselt = (
        limits("barrel_still")
        + limits("barrel_flow")
        * reynolds**0.5
        * prandtl ** (1 / 3)
        / (1 + (limits("barrel_prandtl") / prandtl) ** (2 / 3)) ** 0.25
        * (1 + (reynolds / limits("barrel_turning")) ** 0.625) ** 0.8
    )
    return nusselt * k_air / diameter + radiation


def plate(flow: str, length: Expr) -> Expr:
    """Heat transfer coefficient of a face in the air stream, radiation included."""
    reynolds = road_speed * limits(flow) * length / nu
    return limits("plate_flow") * reynolds**0.8 * prandtl ** (1 / 3) * k_air / length + radiation


def oil(temperature: Expr) -> Expr:
    """Base-oil viscosity at a temperature in degC: log log law through two known points."""
    kelvin = convert(temperature, "degC", "kelvin") / limits("oil_warm")
    low = ln(ln(limits("oil_at_40") / limits("one_centistoke") + limits("oil_added")) / LN10)
    high = ln(ln(limits("oil_at_100") / limits("one_centistoke") + limits("oil_added")) / LN10)
    slope = (low - high) / ln(limits("oil_hot") / limits("oil_warm"))
    double_log = exp(low - slope * ln(kelvin))
    return (exp(double_log * LN10) - limits("oil_added")) * limits("one_centistoke")


def torque(temperature: Expr) -> Expr:
    """Palmgren's churning and load terms for both bearings at a hub temperature."""
    churn = limits("palmgren_churn") * (oil(temperature) * quantity("wheel_rpm")) ** (2 / 3)
    return by_size(
        lambda s: convert(
            churn * (sized_mm("inner_mean", s) ** 3 + sized_mm("outer_mean", s) ** 3)
            + limits("palmgren_load")
            * sized_load(s)
            * (
                limits("inner_share") * sized_mm("inner_mean", s)
                + (1 - limits("inner_share")) * sized_mm("outer_mean", s)
            ),
            "N_mm",
            "N_m",
        )
    )


def sized_mm(name: str, s: str) -> Expr:
    return limits(f"{name}_{s}")


def sized_load(s: str) -> Expr:
    return limits(f"wheel_load_{s}")


def warmed(temperature: Expr) -> Expr:
    """The hub temperature that the friction at a guessed temperature leads to."""
    return fact("air") + (torque(temperature) + quantity("seal_torque")) * quantity(
        "wheel_turning"
    ) / quantity("hub_conductance")


ring = PI / 4 * (size("flange") ** 2 - size("inboard_diameter") ** 2)
fin_reach = (size("rim_radius") - size("flange") / 2) * (
    1 + limits("fin_reach") * ln(2 * size("rim_radius") / size("flange"))
)
fin_area = limits("fin_open") * 2 * PI * (size("rim_radius") ** 2 - size("flange") ** 2 / 4)
fin_path = quantity("fin_efficiency") * quantity("wheel_coefficient") * fin_area
axle_section = PI * (limits("axle_diameter") - limits("axle_wall")) * limits("axle_wall")
inboard_face = PI * size("inboard_diameter") * size("inboard_length")
outboard_face = (
    PI * size("outboard_diameter") * (size("outboard_length") + size("outboard_diameter") / 4)
)

start = fact("air") + table("hub_model.first_guess", fact("air")) * (
    speed_ratio ** limit("hubs.rise_exponent")
)
through = quantity("share_reached") * quantity("share_left")


def at_wheel(name: str, unit: str, formula: Expr) -> Quantity:
    return Quantity(name, unit, formula, MODEL, scope="wheel")


QUANTITIES = [
    q(
        "wheel_turning",
        "rad_s",
        by_size(
            lambda s: (
                road_speed
                / (limit("hubs.rolling") * convert(sized("tire_diameter", s), "in", "m") / 2)
            )
        ),
        "Geometry",
    ),
    q("wheel_rpm", "rpm", convert(quantity("wheel_turning"), "rad_s", "rpm"), "Definition"),
    q("film_temperature", "kelvin", convert(fact("air") + limits("film_excess"), "degC", "kelvin")),
    q(
        "air_viscosity",
        "m2_s",
        limits("air_viscosity") * warmth ** limits("viscosity_power"),
        "Power fit to reference air data",
    ),
    q(
        "air_conductivity",
        "W_mK",
        limits("air_conductivity") * warmth ** limits("conductivity_power"),
        "Power fit to reference air data",
    ),
    q(
        "air_prandtl",
        "ratio",
        nu / (limits("air_diffusivity") * warmth ** limits("diffusivity_power")),
        "Power fit to reference air data",
    ),
    q(
        "radiation_coefficient",
        "W_m2K",
        4 * limits("emissivity") * limits("stefan_boltzmann") * quantity("film_temperature") ** 3,
        "Linearised grey-body exchange",
    ),
    q(
        "outboard_coefficient",
        "W_m2K",
        barrel("outboard_flow", size("outboard_diameter")),
        CHURCHILL,
    ),
    q("inboard_coefficient", "W_m2K", barrel("inboard_flow", size("inboard_diameter")), CHURCHILL),
    q("flange_coefficient", "W_m2K", plate("inboard_flow", size("flange")), PLATE),
    q("wheel_coefficient", "W_m2K", plate("inboard_flow", 2 * size("rim_radius")), PLATE),
    q("axle_coefficient", "W_m2K", barrel("inboard_flow", limits("axle_diameter")), CHURCHILL),
    q(
        "fin_length",
        "ratio",
        (2 * quantity("wheel_coefficient") / (limits("steel_conductivity") * size("disc"))) ** 0.5
        * fin_reach,
        FIN,
    ),
    q("fin_efficiency", "ratio", tanh(quantity("fin_length")) / quantity("fin_length"), FIN),
    q(
        "body_conductance",
        "W_K",
        quantity("inboard_coefficient") * inboard_face
        + quantity("outboard_coefficient") * outboard_face
        + quantity("flange_coefficient") * ring,
    ),
    q("wheel_conductance", "W_K", 1 / (1 / fin_path + 1 / (limits("flange_contact") * ring)), FIN),
    q(
        "axle_conductance",
        "W_K",
        (
            quantity("axle_coefficient")
            * PI
            * limits("axle_diameter")
            * limits("steel_conductivity")
            * axle_section
        )
        ** 0.5,
        FIN,
    ),
    q(
        "hub_conductance",
        "W_K",
        quantity("body_conductance") + quantity("wheel_conductance") + quantity("axle_conductance"),
    ),
    q(
        "seal_torque",
        "N_m",
        limits("seal_drag") * (size("seal_land") / limits("seal_reference")) ** 2,
        "Radial lip seals, order of magnitude",
        "memory",
    ),
    q("hub_guess_1", "degC", warmed(start), WALTHER),
    q("hub_guess_2", "degC", warmed((quantity("hub_guess_1") + start) / 2), WALTHER),
    q(
        "hub_guess_3",
        "degC",
        warmed((quantity("hub_guess_1") + quantity("hub_guess_2")) / 2),
        WALTHER,
    ),
    q(
        "bearing_torque",
        "N_m",
        torque((quantity("hub_guess_2") + quantity("hub_guess_3")) / 2),
        PALMGREN,
        "memory",
    ),
    q(
        "friction_power",
        "W",
        (quantity("bearing_torque") + quantity("seal_torque")) * quantity("wheel_turning"),
        "Definition",
    ),
    q("expected_rise", "K", quantity("friction_power") / quantity("hub_conductance")),
    q(
        "model_heating_time",
        "s",
        by_size(lambda s: sized("heat_capacity", s)) / quantity("hub_conductance"),
    ),
    q("share_reached", "ratio", 1 - exp(-quantity("run_time") / quantity("model_heating_time"))),
    q(
        "share_left",
        "ratio",
        exp(-convert(fact("parked"), "min", "s") / convert(limit("hubs.cooling_time"), "min", "s")),
    ),
    q(
        "expected_at_stop",
        "degC",
        fact("air")
        + quantity("expected_rise") * quantity("share_reached") * quantity("share_left"),
    ),
    at_wheel("rise_at_cruise", "K", rise / through),
    at_wheel("hub_at_cruise", "degC", fact("air") + quantity("rise_at_cruise")),
    at_wheel(
        "extra_drag",
        "N_m",
        quantity("rise_at_cruise") * quantity("hub_conductance") / quantity("wheel_turning")
        - quantity("bearing_torque")
        - quantity("seal_torque"),
    ),
    at_wheel(
        "grease_margin",
        "K",
        limits("grease_limit") - quantity("hub_at_cruise") - limits("inside_hotter"),
    ),
]

FINDINGS = [
    Finding(
        "grease_gone",
        "hub_heat",
        "stop",
        (quantity("grease_margin") < limits("no_margin"))
        & (rise > quantity("clear_excess"))
        & ~(~unbraked & is_("hub_spot", "drum")),
        "Lubrication trade press: lithium grease, highest steady temperature",
        "secondary",
        (*HOT, "fire"),
        ("grease_margin",),
        optional=True,
        beneath="hub_far_too_warm",
        told_only=True,
    ),
]
