//! What to carry to a hive.

use hive::Hive;

use crate::taking::Combs;

/// What the work ahead needs when so many combs may be taken, usual things last. Common practice, no
/// source.
pub fn carry(hive: &Hive, take: usize) -> Vec<String> {
    let mut list = Vec::new();
    if take > 0 {
        let pails = take.div_ceil(4);
        let pails = if pails == 1 {
            "a pail with a lid".to_owned()
        } else {
            format!("{pails} pails with lids")
        };
        list.push(format!(
            "For {}: {pails}, long knife, clean cloth, water for sticky hands",
            Combs(take as f64)
        ));
        let bars = if take == 1 { "bar" } else { "bars" };
        list.push(format!("{take} cut or empty {bars} to set in, shims"));
    } else {
        list.push("Two empty bars with starter strips, shims".to_owned());
    }
    if !hive.numbered {
        list.push("Paint or a pen, to number the bars".to_owned());
    }
    list.push("Veil, gloves, smoker and fuel, comb knife, hive tool, feather or brush".to_owned());
    list
}
