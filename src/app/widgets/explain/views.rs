//! Headings of the Life view and of the buyer's lists.

use super::Explanation;

pub(super) const TABLE: &[Explanation] = entries! {
    "years against ambient" "Years against the ambient",
        "Calendar years of every curve if the air beside the can had this temperature in every phase; the band is what the published laws give, the vertical lines are the operating phases, as wide as their share.",
        "L = L0 2^((T0-Ta)/10) 2^((dT0-dT)/10), years = min(L / hours per year, cap)",
        "Rubycon life sheet; cap: Beckhoff PS9011 manual (published)";
    "years against ripple" "Years against ripple",
        "Calendar years with the load profile when every line of the ripple is so many times what was entered.",
        "dT = dT0 (I_eq / I_R)^2 / m^2", "Rubycon life sheet (published)";
    "years against voltage" "Years against voltage",
        "Calendar years with the load profile at another operating voltage. A lower voltage counts as longer life only where the policy says so.",
        "as in the life check, at the voltage drawn", "Rubycon life sheet (published); voltage factor: common practice";
    "years against hours" "Years against hours", "Calendar years when the unit is energised so many hours in a year.",
        "years = min(L / hours per year, cap)", "definition; cap: Beckhoff PS9011 manual (published)";
    "curve" "Curve", "The line of this part in both plots, with its number.";
    "candidate" "Part",
        "What the row is about: a part that may be chosen, picked, proposed or pinned, or the original.";
    "years read" "Years at",
        "Years of every curve where the pointer is, or where one reads; in brackets the least and the most by the published laws, all capped.",
        "years = min(L / hours per year, cap)", "definition; cap: Beckhoff PS9011 manual (published)";
    "years with the load profile" "With load profile",
        "Years with the load profile as entered, capped; in brackets below the curves those before the calendar life limit, where it cuts them, in the overview the least and the most by the published laws.",
        "1/L = sum w/L_phase", "Cosel technical information (published)";
    "duty" "Load profile",
        "Phases of ambient and ripple with their shares. Each phase uses up its part of the life, linearly.",
        "1/L = sum w/L_phase", "Cosel technical information (published)";
    "phase" "Phase", "What the shop calls it.";
    "phase share" "Share", "Share of the energised time; the shares are brought to one.", "w = share / sum of shares",
        "definition";
    "phase ambient" "Ambient", "Air beside the can in this phase, °C.";
    "phase ripple" "Ripple factor", "Factor on every line of the ripple in this phase; empty is 1.";
    "phase life" "Life", "Share of the life this phase uses.", "(w/L_phase) / sum (w/L_phase)",
        "Cosel technical information (published)";
    "spread" "Spread",
        "How far the years may spread when ambient, ripple and endurance are not known exactly: seeded samples of the life law. One in ten lasts less than P10, half less than P50, nine in ten less than P90.",
        "quantiles of sampled years", "definition; the spreads assumed are named beside the result";
    "on target" "On target", "Share of the samples that reach the target life.";
    "board and interval" "Board and interval",
        "A board lasts as long as its shortest-lived position. Years against cost: the cheapest picks for every interval worth having.",
        "years(board) = min years(position)", "definition; the frontier is exact (derived)";
    "heat balance" "Thermal cross-check",
        "The rated-ripple law beside a heat balance over the surface of the can. Where the balance is 5 K or more from the law it says so; where it is hotter the life by the law is too long: measure the case.",
        "law: dT0 (I / I_R)^2; balance: I^2 ESR / (h A)",
        "Rubycon life sheet (published); heat transfer: named beside the figure";
    "ripple from the circuit" "Ripple from the circuit",
        "When nobody measured the ripple: pick the circuit, enter what is on the bench, get the spectrum with its formula, source and cautions.",
        "of the circuit picked", "named beside each circuit";
    "ripple from a record" "Ripple from an oscilloscope",
        "The capacitor current as an oscilloscope recorded it: rms over whole periods, lines by Fourier transform with Hann's window.",
        "I = sqrt(mean i^2)", "definition; circuit theory";
    "temperature log" "Temperature log",
        "A logger's file of time and temperature, cut into phases whose damage by the 10 K rule is that of the log.",
        "T of a phase = 10 log2(mean of 2^(T/10))", "derived from the 10 K rule";
    "parallel and series" "Parallel and series",
        "Parallel cans share the ripple by admittance; a series string shares its voltage by leakage and balancing resistors.",
        "I_k = I |Y_k| / |sum Y|", "circuit theory";
    "carried" "Carries", "Ripple this can carries of that of its group, A, and its share.", "I_k = I |Y_k| / |sum Y|",
        "circuit theory";
    "old part" "Old part",
        "Condition by what was measured, beside what the laws predicted for its age: below 80 % of the capacitance or above twice the ESR limit it is worn out.",
        "C/C0 < 0.8 or ESR/limit > 2 worn", "makers' endurance limits; common practice";
    "worn" "Worn", "Share of the life used, by what was measured.", "max((1 - C/C0) / 0.2, (ESR/ESR0 - 1) / 1)",
        "makers' endurance limits; common practice";
    "predicted wear" "Predicted", "Share of the life used by the laws, for its age, hours and load profile.",
        "hours / L", "definition";
    "stress verdict" "Stress",
        "Whether the old part wore as its age predicts. Where it wore more, ambient or ripple are higher than entered.";
    "re-forming" "Shelf and re-forming", "Wet parts stored over 2 years are re-formed before use.",
        "rated voltage through 100 Ω (to 100 V) or 1 kΩ, 1 h, then 12 to 48 h rest",
        "ECA/EIA-815, abstract (published); the 2 years: a drive maker's bulletin, second-hand";
    "rests on" "Assumptions",
        "Figures that came from tables of usual values, because neither part nor position gives them.";
    "quantities" "Quantities",
        "Units rebuilt, spares, what an order line costs, boards in a unit and rates of other currencies: they make the need of every line.",
        "need = ceil(positions x per unit x units x (1 + spare/100))", "definition";
    "preferred makers" "Makers",
        "Makers the order prefers where it costs no more than a little for each line, and a second source where it is asked for.";
    "order search" "Search",
        "One passing part for each position so that parts and line handling together cost least. It stops at the time given and says how far the order found may be from the best.",
        "cost = sum of line totals + lines x cost of a line",
        "definition; bound: Lagrangian relaxation, Fisher 1981 (from memory)";
    "order lines" "Lines", "Order lines: one for each part and supplier.";
    "order cost" "Parts and lines", "Line totals and line handling together.",
        "cost = sum of line totals + lines x cost of a line", "definition";
    "first to go" "First failure expected after", "Years until the first of these positions is used up.",
        "min years(position)", "definition";
    "step take" "Take", "The part the positions share instead of their cheapest ones.";
    "step costs" "Costs", "What the step adds to the order, line handling included; less than nothing saves.";
    "step years" "Life there", "Years at these positions before and after the step.";
    "second source" "Second source",
        "Another part that passes at all positions of the line, of another maker, for when the first cannot be had.";
    "before use" "Before use", "What the lot needs before it is fitted, by its age.",
        "rated voltage through 100 Ω (to 100 V) or 1 kΩ, 1 h, then 12 to 48 h rest",
        "ECA/EIA-815, abstract (published)";
    "own currency" "In the job's currency", "The line total at the rate entered under Quantities.", "total x rate",
        "definition";
    "price list" "Price list", "Pieces from which each price of one holds.";
    "record years" "Years", "Between the two rebuilds.";
    "pace" "Pace", "Whether the part wore slower, as, or faster than the band of the published laws.";
    "lot and date code" "Lot, date code", "What was printed on the part that went in.";
    "reading" "Reading",
        "Capacitance and ESR with its frequency as measured on the bench: of the old part before, of the new one after.";
};
