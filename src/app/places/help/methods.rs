//! The methods in short words, in the order in which a part meets them.

/// One method.
pub(super) struct Method {
    pub heading: &'static str,
    pub text: &'static str,
    pub formulas: &'static [&'static str],
    pub source: &'static str,
}

const fn method(
    heading: &'static str,
    text: &'static str,
    formulas: &'static [&'static str],
    source: &'static str,
) -> Method {
    Method { heading, text, formulas, source }
}

pub(super) const ALL: &[Method] = &[
    method(
        "1 Ripple: one equivalent current",
        "Currents of different frequencies heat the part differently. Each is divided by the part's multiplier at its frequency, and they are added as heat. A part without multipliers takes them from published tables, marked assumed.",
        &["I_eq = sqrt( sum (I_k / F(f_k))^2 ),  F = 1 at the rated frequency"],
        "Vishay BCcomponents doc. 28340 table 4, doc. 28321 table 4 (published); solid polymer from memory",
    ),
    method(
        "2 Core rise",
        "Ripple makes the core hotter than the air. Moving air lowers the rise.",
        &[
            "dT = dT0 (I_eq / I_R)^2 / m^2",
            "dT0 unless given: 10 K below 100 °C, 5 K below 120 °C, 3 K from there; polymer 20 K",
        ],
        "Rubycon life sheet; Wikipedia, Aluminum electrolytic capacitor; GE Capacitor application data table AP3 (published)",
    ),
    method(
        "3 Ripple allowed at the ambient",
        "In cooler air a part may carry more ripple for the same life. These multipliers are never multiplied into the life.",
        &[
            "I_allow(Ta) = I_R M(Ta)",
            "M unless given, from 100 °C: 1.0 at T0, 1.7 at T0-20, 2.1 at T0-40; below 100 °C: 1.6 at T0-15, 2.0 at T0-35",
        ],
        "Rubycon data sheets for 105 and 85 °C parts (published), shifted to other temperatures by us",
    ),
    method(
        "4 Life",
        "Life doubles for every 10 K less; ambients below 40 °C count as 40 °C. Phases combine by the share of life each uses up. No part is believed beyond 15 years. The band shows four published laws side by side.",
        &[
            "L = L0 2^((T0-Ta)/10) 2^((dT0-dT)/10) K_V",
            "solid polymer: L = L0 10^((T0-Ta-dT+dT0)/20)",
            "1/L = sum w_i / L_i;  years = min(L / hours per year, 15)",
        ],
        "Rubycon life sheet; Cosel technical information; DB Lectro data sheet; Beckhoff PS9011 manual (published); Albertsen, Jianghai Europe 2010 (second-hand)",
    ),
    method(
        "5 Voltage",
        "The highest working voltage stays below a share of the rated voltage; short overvoltages below the surge voltage; reversal within -1 V, never for long.",
        &[
            "(dc + ripple peak) / U_R <= 0.80; 0.90 for wet parts from 160 V",
            "surge: 1.15 U_R to 315 V, 1.10 U_R above",
        ],
        "limits: common practice; surge: IEC 60384-1 as quoted",
    ),
    method(
        "6 ESR",
        "The ESR is brought to the frequency of the limit by equal heat. Without a value it comes from the loss factor.",
        &["ESR(120 Hz) = tan d / (2 pi 120 C)", "ESR(f) = ESR(f1) (F(f1) / F(f))^2"],
        "KEMET A4001; Nichicon HE and UPW data sheets (published)",
    ),
    method(
        "7 Capacitance",
        "Limits of the position count; without them a window around the original's capacitance by role.",
        &[
            "reservoir, link, filter, decoupling: 1 to 2 C0 pass, 0.8 to 3 C0 marginal",
            "start-up: 1 to 1.5, 0.8 to 2;  timing, coupling: 0.98 to 1.02, 0.9 to 1.1",
        ],
        "common practice, no source",
    ),
    method(
        "8 Fit",
        "Largest body with tolerance, vent space above it, mounting, hole pitch, lead in hole, gap to the neighbours. The worst counts and is named.",
        &["height max + vent (2, 3 or 5 mm) <= room", "centre distance - (D1 + D2)/2 >= gap"],
        "Panasonic SU, Vishay 056/057, KEMET ESC A4006 (published); IPC-2222 as quoted; KiCad axial footprints (open data)",
    ),
    method(
        "9 Temperature, leakage, supply",
        "The ambient lies inside the category with 5 K to spare; leakage below its limit where there is one; obsolete parts fail.",
        &["Ta_max <= T0 - 5 pass, <= T0 marginal", "leakage: max(0.01 C U, 3 uA) to 100 V, 0.06 C U + 10 uA above"],
        "Panasonic SU and NHG data sheets (published); margin of 5 K: common practice",
    ),
    method(
        "10 Verdict",
        "Fail if any check fails; else unknown if any but supply is unknown; else marginal if any is; else pass. Missing data never passes.",
        &["headroom = least of 1 - use/limit over voltage, ripple, life, ESR"],
        "definition",
    ),
    method(
        "11 The board and its interval",
        "A board lasts as long as its shortest-lived position.",
        &["cost over H years = ceil(H / interval) (teardown + parts)"],
        "definition",
    ),
    method(
        "12 Purchase",
        "Needs are rounded up, raised to the minimum order and to whole packs; a price break that costs less in total is proposed.",
        &["need = ceil(positions x per unit x units x (1 + spare/100))"],
        "definition",
    ),
    method(
        "13 Groups",
        "Cans in parallel share ripple by admittance; strings in series need balancing resistors.",
        &["Y = 1 / (ESR(f) + 1/(j w C))", "R <= (N U_R - U) / ((N-1) dI_leak)"],
        "circuit theory (published), checked against a circuit simulator",
    ),
    method(
        "14 Ripple from the circuit",
        "Where nobody measured the ripple, it follows from the converter around the part.",
        &[
            "buck input Io sqrt(D(1-D)); buck output dI/(2 sqrt 3)",
            "boost, flyback output Io sqrt(D/(1-D))",
            "full-wave half sines Io sqrt(pi^2/8 - 1)",
        ],
        "textbook results (published), checked against a circuit simulator",
    ),
    method(
        "15 Stored energy and discharge",
        "Shown above 60 V or 10 J, with the caution.",
        &["E = C U^2 / 2,  t = R C ln(U / V)"],
        "IEC 60204-1 6.2.4, IEC 60950-1 (quoted); DOE/LBNL electrical safety manual",
    ),
    method(
        "16 Condition of the old part",
        "Below 80 % of its capacitance or above twice its ESR limit a part is worn out. Parts stored for more than two years are re-formed before use.",
        &["rated voltage through 100 ohm (to 100 V) or 1 kohm, 1 h, then 12 to 48 h rest"],
        "makers' endurance limits, common practice; ECA/EIA-815 abstract (published)",
    ),
    method(
        "17 Uncertainty",
        "Ambient, ripple and endurance are drawn many times from their spread; shown are the years that 10, 50 and 90 of 100 draws stay below.",
        &["ln L is normal with sigma ln2 / 10 when only the ambient is uncertain"],
        "closed form, derived",
    ),
];
