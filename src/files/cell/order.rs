//! Which of two bare dimensions (`11x5`) stands first: what a header or the cells of a column say.

use super::{Column, Order, Reading, clean, size, text};

/// Usual can diameters in mm (common practice, no source).
const DIAMETERS_MM: [f64; 22] = [
    3.0, 4.0, 5.0, 6.3, 8.0, 10.0, 12.5, 13.0, 14.5, 16.0, 18.0, 20.0, 22.0, 25.0, 30.0, 35.0, 40.0, 51.0, 63.5, 76.0,
    77.0, 90.0,
];

/// Order of the two dimensions that a header gives away (`Size ΦdxL(mm)`, `DxH`, `L x D`).
pub fn header_order(header: &str) -> Order {
    let Ok(header) = clean::clean(header) else { return Order::Unknown };
    let plain: String = header.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect();
    let any = |names: &[&str]| names.iter().any(|name| plain.contains(name));
    match (any(&["dxl", "dxh", "øxl", "øxh", "diaxl", "diaxh"]), any(&["lxd", "hxd", "lxø", "hxø"])) {
        (true, false) => Order::DiameterFirst,
        (false, true) => Order::HeightFirst,
        _ => Order::Unknown,
    }
}

/// Order of the two dimensions that the cells of a column agree on. A cell decides when exactly one of its two figures is a usual can
/// diameter (`5×11`: no can is 11 mm wide); cells that contradict each other leave it unknown.
pub fn column_order<'a>(cells: impl IntoIterator<Item = &'a str>, column: &Column) -> Order {
    let open = Column { order: Order::Unknown, ..*column };
    let usual = |mm: Option<f64>| mm.is_some_and(|mm| DIAMETERS_MM.contains(&mm));
    let (mut diameter_first, mut height_first) = (false, false);
    for cell in cells {
        let found = match size::read(cell, &open) {
            // `63V, 3.0A, 16x31.5`: a size among other figures.
            Reading::Bad { .. } => text::find(cell, &open).size,
            reading => reading,
        };
        if let Reading::Ambiguous { options, .. } = found
            && let [a, b] = options.as_slice()
            && a.diameter_mm == b.height_mm
        {
            match (usual(a.diameter_mm), usual(b.diameter_mm)) {
                (true, false) => diameter_first = true,
                (false, true) => height_first = true,
                _ => {}
            }
        }
    }
    match (diameter_first, height_first) {
        (true, false) => Order::DiameterFirst,
        (false, true) => Order::HeightFirst,
        _ => Order::Unknown,
    }
}
