//! Headings of tables, plots and lists.

use super::Explanation;

const PRACTICE: &str = "common practice, no source";

pub(super) const TABLE: &[Explanation] = entries! {
    "pass" "Pass", "The part holds with the margin the policy asks for.";
    "marginal" "Marginal",
        "The part holds, with less margin than the policy asks for, or only after some work such as formed leads. A person decides.";
    "unknown" "Unknown",
        "A figure that a check needs is missing, and no table of usual values supplies it. Enter the figure or measure it: missing data never passes.";
    "fail" "Fail", "A figure is beyond its limit. The reason says which figure is beyond its limit.";
    "verdict" "Verdict",
        "The worst of all checks: fail before unknown before marginal before pass. Unknown availability alone does not count.",
        "worst of the nine checks", "definition";
    "headroom" "Margin", "The least margin that is known: how far the part is from the nearest limit of the policy.",
        "min(1 - use/limit) over voltage, ripple, life, ESR", "definition";
    "voltage" "Voltage",
        "Highest operating voltage against the rated voltage; short overvoltages against the surge voltage; reversal.",
        "use = (dc + ripple peak) / U_R",
        "limits 80 % and 90 %: common practice; surge 1.15 and 1.10 U_R: IEC 60384-1 as quoted";
    "ripple" "Ripple",
        "The ripple current, made one equivalent current at the part's own frequency, against what is allowed at the ambient; the worst phase counts.",
        "I_eq = sqrt(sum (I_k / F(f_k))^2), use = I_eq / (I_R M(Ta))",
        "multipliers: the part's own, else Vishay BCcomponents doc. 28340 and 28321 and Rubycon life sheet (published)";
    "life" "Life", "Energised hours until the part is worn out, over all operating phases, against the target.",
        "L = L0 2^((T0-Ta)/10) 2^((dT0-dT)/10), 1/L = sum w/L_phase",
        "Rubycon life sheet; phases: Cosel technical information (published)";
    "esr" "ESR",
        "Equivalent series resistance at the frequency of the limit, below the limit and, where one is given, above the least.",
        "ESR = tan d / (2 pi f C), ESR(f) = ESR(f1) (F(f1)/F(f))^2",
        "KEMET A4001; usual dissipation factors: Nichicon HE and UPW data sheets (published)";
    "capacitance" "Capacitance",
        "Nominal capacitance inside the limits of the position, else inside a window around the original's that depends on the role.",
        "reservoir, link, filter: 1 to 2 C0 pass, 0.8 to 3 C0 marginal; timing, coupling: 0.98 to 1.02, 0.9 to 1.1",
        PRACTICE;
    "fit" "Fit",
        "Largest body in its room with space for the vent, mounting, hole spacing, lead in hole, gap to the neighbours; the worst counts.",
        "largest body = nominal + tolerance; height + vent <= room",
        "tolerances: Panasonic SU, Vishay 056/057; vent: KEMET ESC A4006 (published)";
    "temperature" "Temperature",
        "Coldest and hottest ambient inside the part's category, with 5 K to spare on the hot side.",
        "Ta_max <= T0 - 5 pass, <= T0 marginal; Ta_min >= lower category", PRACTICE;
    "leakage" "Leakage", "Leakage current against the limit of the position; without a limit it passes.",
        "max(0.01 C U, 3 µA) to 100 V, 0.06 C U + 10 µA above",
        "Panasonic SU and NHG data sheets (published); solid polymer from memory";
    "supply" "Availability",
        "Whether the part can be bought: obsolete fails, not for new designs or too little stock is marginal.";
    "years" "Years", "Life in calendar years, not beyond what is believed of any electrolytic capacitor.",
        "years = min(L / hours per year, cap)", "cap of 15 years: Beckhoff PS9011 manual (published)";
    "band" "Band",
        "The same load profile under four published life laws, least to largest. Makers differ by more at low ambients: the band is spread between models, not a guarantee.",
        "10 K law; 5 K ripple law; alpha law; Arrhenius 0.68 eV",
        "Rubycon life sheet; DB Lectro data sheet (published)";
    "interval" "Interval",
        "How long the board lasts: the least of the years of its positions. That position limits the interval.",
        "years(board) = min years(position)", "definition";
    "core rise" "Core rise", "How much hotter the core is than the air beside the can. Moving air lowers it.",
        "dT = dT0 (I_eq / I_R)^2 / m^2", "Rubycon life sheet; m: GE Capacitor application data, table AP3 (published)";
    "inrush" "Inrush and hold-up",
        "What a reservoir or DC link asks of rectifier, fuse and inrush limiter at switch-on, and how long it carries its load alone.",
        "R = U / I_max, t = C (U1^2 - U2^2) / (2 P)",
        "Ametherm application note, TI UCC28180 data sheet (published); 1.5 times: common practice, no source";
    "stored energy" "Stored energy",
        "Energy in the larger of the original and the chosen part at the highest voltage (the transient, or dc with the ripple peak), and the time a bleeder needs to bring it to 60 V.",
        "E = C U^2 / 2, t = R C ln(U / V)", "circuit theory; 60 V within 5 s: IEC 60204-1 6.2.4 (quoted)";
    "need" "Required", "Pieces for all boards of all units with spares, rounded up.",
        "need = ceil(positions x per unit x units x (1 + spare/100))", "definition";
    "order quantity" "Order quantity",
        "The need raised to the minimum order and up to a multiple of the pack; more where the next price break costs less in total.";
    "condition" "Condition of the old part",
        "What was measured against what the part was: below 80 % of the capacitance or above twice the ESR limit it is worn out.",
        "C/C0 < 0.8 or ESR/limit > 2 worn; C/C0 < 0.9 or ESR/limit > 1.5 ageing",
        "makers' endurance limits; common practice";
    "side view" "From the side",
        "The largest body of the selected candidate, filled, and of the original, dashed, under the room at the position and the lid of the board. Above the body the space its vent needs.",
        "largest height + vent space <= room; vent space 2 mm to 16 mm of diameter, 3 mm to 40 mm, 5 mm above",
        "KEMET ESC A4006 (published); tolerances: Panasonic SU, Vishay 056/057 (published)";
    "best parts" "Best parts",
        "The best candidates by verdict, then by price, margin and availability. Rest on one to see it on the map, click to select it, click again or press Enter to pick it; the arrow keys walk from card to card.";
    "gap" "Gap",
        "Free space between the largest bodies of the chosen parts, seen from above: standing cans as circles, lying ones as rectangles along their leads.",
        "circles: centre distance - (D1 + D2)/2; rectangles: shortest way between their edges",
        "geometry; the 1 mm wanted: common practice, no source";
    "keep-out" "What must stay free",
        "Keep-outs and mounting holes of the board that the largest body of a chosen part covers, seen from above, with how far it reaches in. Choose a slimmer part or move the position.",
        "reach = - (gap between body and area)", "geometry";
    "colours" "Colours",
        "What the colour and the mark of a can stand for: the check result of the new part, or what is left of the old one by what was measured on it.";
    "picked" "Picked", "A part is picked and passes every check: nothing is left to decide.";
    "on assumed stress" "On assumed stress",
        "The part passes, but on stress nobody has entered: measure it before trusting the part.";
    "proposed" "Proposed", "A part that passes is proposed; click it, or press Enter, to pick it.";
    "work to do" "Work to do",
        "The part is marginal: leads are to be formed, vent space is short, or a margin is smaller than wanted. The reasons say which.";
    "not enough known" "Not enough known",
        "A figure is missing, of the position or of every part. The reasons name it.";
    "pick fails" "Pick fails", "The picked part fails a check: pick another one, or enter what has changed.";
    "no part" "No part",
        "No part of the catalogue is suitable. The cards say what speaks against the nearest ones, and what may be relaxed.";
    "open" "Open", "Not checked yet.";
    "why" "Reasons",
        "Every check of the selected candidate with its figures: what it comes to, what is allowed, and which figures were assumed for want of data.",
        "verdict = worst of the checks; unknown availability alone does not count", "each check: rest on its name";
    "comparison" "Comparison",
        "The pinned candidates side by side. Better and worse are told against the original part as it was when new.",
        "difference = candidate - original", "definition";
    "board with it" "Board with it",
        "How long the board lasts when the selected candidate sits here and every other position keeps its chosen part.",
        "years(board) = min years(position)", "definition";
    "original part" "Original part", "What was built in, as printed on it and as its data sheet said.";
    "name, groups and note" "Name, groups and note", "What the position is called and belongs to.";
    "stress" "Stress", "What the circuit and the cabinet do to the part: voltages, ripple, air.";
    "needs of the circuit" "Needs of the circuit",
        "What the circuit asks of the part; where nothing is entered the original is the measure.";
    "room" "Room", "The space at the position: above, beside, between the holes.";
    "measured on the old part" "Measured on the old part",
        "What was read on the old part on the bench: it tells how far it is worn out.",
        "C/C0 < 0.8 or ESR/limit > 2 worn", "makers' endurance limits; common practice";
    "where it sits" "Where it sits",
        "Centre of the body on the board, from the lower left corner, and the direction of its leads.";
    "data sheet of the original" "Data sheet of the original",
        "Figures of the original beyond what is printed on it, for comparison and as limits.";
    "job" "Job", "What is rebuilt, how often, and what it costs to open the machine.";
    "policy" "Policy", "The margins of the shop: they decide between pass and marginal.";
    "board holes" "Mounting holes",
        "Holes of the board: centre from the lower left corner, and diameter. They are drawn on the map and kept free when a place for a second can is looked for.";
    "board keep-outs" "Keep-outs",
        "Areas that cans stay out of: heat sinks, rails, transformers. Lower left corner, width and height.";
    "order part" "Part", "The maker's part number: picked, else the proposed part.";
    "order supplier" "Supplier",
        "Who sells it; +1 where another one offers it too. The cheapest in total among those with enough stock is taken unless the buyer chooses.";
    "order positions" "Positions", "The positions of all boards that get the part.";
    "order shelf" "From the shelf",
        "Pieces of the need the shop has already, the oldest lot first. Lots older than two years, or of unknown age, are re-formed before use.",
        "rated voltage through 100 Ω (to 100 V) or 1 kΩ, 1 h, then 12 to 48 h rest",
        "ECA/EIA-815, abstract (published)";
    "order minimum" "Minimum and pack",
        "Least order and pieces in a pack. 1? stands where the supplier does not say: counted as 1 (assumed).";
    "order price" "Price of one", "At the quantity ordered, in the currency of the offer.";
    "order break" "Price from", "Pieces from which this price holds: the highest break not above the order.";
    "order total" "Line total", "Quantity times price, in the currency of the offer; unknown without a price.";
    "order currency" "Currency", "Currency of price and total.";
    "order next" "Next price break",
        "What the next price break would be: pieces, price of one, total. Where it costs less in total it is ordered already.";
    "order lead" "Lead time", "Days until delivery, as the supplier says.";
    "order stock" "Stock", "Pieces the supplier has.";
    "order maker" "Maker", "Who makes the part.";
    "order wishes" "Constraints",
        "Parts the order has to use, and parts it must not use, for instance because nobody will vouch for them.";
    "order comparison" "Comparison",
        "Order lines, what parts and line handling cost, and the years until the first position is used up.";
    "order steps" "Steps",
        "From each position's cheapest part to the shared ones, the step that saves most first: what it adds to the order, line handling included, and the years at these positions before and after.";
    "units due" "Units", "The unit that has to come back soonest first; unknown dates stand before them.";
    "wear" "Wear",
        "Share of the life used between two rebuilds by what was measured, beside the prediction with the band of the published laws. Counted evenly to the end of life; real parts age faster towards it, so early readings read low (assumed).",
        "(1 - C/C0) / 0.2, (ESR/ESR0 - 1) / 1", "makers' endurance limits; common practice";
    "job.prefer_worth" "Max. premium per line",
        "How much dearer the order may be for each line that is of a preferred maker.";
    "rate" "Rate", "Units of the job's currency for one of the other, as the buyer knows it today.";
    "shelf.qty" "Pieces on the shelf", "Whole pieces of the lot.";
    "shelf.date_code" "Date code",
        "Year and week as 2319, or year and month as 2023-05. Without it the age is unknown, and the lot is treated as stored too long.";
};
