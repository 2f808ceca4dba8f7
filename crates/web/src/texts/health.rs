//! Health on the screen of one hive.

/// Its heading.
pub const HEALTH: &str = "Health";
/// Nothing to tell.
pub const QUIET: &str =
    "No treatment is on, no sign stands, no honey is withheld by what is recorded.";
/// Asked when a treatment ends.
pub fn left_over(product: &str) -> String {
    format!("{product} comes out: what was left over or found")
}
/// Its button.
pub const IS_OUT: &str = "It is out";
/// Asked when a sign no longer stands.
pub fn why_cleared(condition: &str) -> String {
    format!("{condition} no longer stands, because")
}
/// Its button.
pub const CLEARED: &str = "Clear it";
/// Cleared without a reason.
pub const NO_REASON: &str = "Not written down: say why it no longer stands.";
/// Opens the form for a treatment.
pub const NOTE_TREATMENT: &str = "Note a treatment";
/// The product.
pub const PRODUCT: &str = "Product, as on the label";
/// Without one.
pub const NO_PRODUCT: &str = "Name the product, or what was done.";
/// The substance.
pub const ACTIVE: &str = "Active substance, as on the label";
/// How it is given.
pub const HOW: &str = "How you give it";
/// How much.
pub const QUANTITY: &str = "How much, in your words";
/// The batch.
pub const BATCH: &str = "Batch on the packet";
/// The planned removal.
pub const OUT_BY: &str = "To come out on";
/// Not a day to come.
pub const NO_OUT_BY: &str = "A day from today on.";
/// What the label says of honey.
pub const LABEL: &str = "What the label says of honey";
/// Key and words of each answer.
pub const LABELS: [(&str, &str); 4] = [
    ("unknown", "Not copied in yet"),
    ("nil", "None withheld"),
    ("days", "Withheld while on and some days after"),
    ("lost", "Honey on during it must not be taken"),
];
/// How many.
pub const DAYS_AFTER: &str = "Days after it is over";
/// Not a number of days.
pub const NO_DAYS: &str = "A whole number of days, as on the label.";
/// Opens the form for a sign.
pub const NOTE_SIGN: &str = "Note a sign of disease or pest";
/// The disease or pest.
pub const CONDITION: &str = "Disease or pest, or your words for it";
/// Without one.
pub const NO_CONDITION: &str = "Say what it might be.";
/// On which bar.
pub const BAR: &str = "On bar";
/// Not one of this hive.
pub const NO_BAR: &str = "This hive has no such bar.";
/// What was seen.
pub const SEEN: &str = "What you saw";
/// How sure it is.
pub const SURE: &str = "How sure";
/// Key and words of each answer.
pub const CERTAINTIES: [(&str, &str); 3] = [
    ("suspected", "It may be"),
    ("confirmed", "Found: a laboratory or an inspector says so"),
    ("not_found", "Looked for, none found"),
];
/// Writes it down.
pub const WRITE: &str = "Write it down";
