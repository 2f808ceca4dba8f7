//! Diseases and pests: how they show, and what the reference found that keepers must do.
//!
//! Law differs and changes: what stands here is what was read, for the places named; the local
//! authority decides. Source: notifiable.csv of the reference, status of each row as given there.

/// One disease or pest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Condition {
    /// Its common name.
    pub name: &'static str,
    /// Words by which it is known, in small letters.
    pub words: &'static [&'static str],
    /// What this program takes it for until the keeper has asked.
    pub handling: Handling,
    /// What was found for each of [`PLACES`]; "-" is nothing found.
    pub places: [&'static str; 5],
    /// How it shows.
    pub signs: &'static str,
    /// What the keeper must do.
    pub must: &'static str,
}

/// The places that were looked up.
pub const PLACES: [&str; 5] = [
    "New South Wales",
    "New Zealand",
    "England and Wales",
    "European Union",
    "United States",
];

/// What a sign of it asks for until the local authority, or what the keeper found out, says
/// otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Handling {
    /// Somewhere a report brings the site to a standstill: close up, move nothing, report.
    Standstill,
    /// Somewhere it must be reported; combs and honey are not what carries it, or it is everywhere.
    Report,
    /// A keeper's own matter nearly everywhere.
    Tend,
}

/// Every disease and pest that the reference has.
#[rustfmt::skip]
pub const CONDITIONS: &[Condition] = &[
    Condition {
        name: "American foulbrood",
        words: &["american foul", "afb", "paenibacillus"],
        handling: Handling::Standstill,
        places: [
            "notifiable",
            "notifiable; National Pest Management Plan",
            "notifiable disease",
            "listed D+E",
            "state law, reportable in most states",
        ],
        signs: "patchy capped brood; dark, sunken, perforated caps; coffee-brown larvae with no segments; thread 10-30 mm even and snapping back on a dry rough stick; scale stuck to lower cell wall; foul smell",
        must: "stop, close, report; move no bees, comb, honey or tools; disinfect; inspect all hives; destroy only as directed",
    },
    Condition {
        name: "European foulbrood",
        words: &["european foul", "efb", "melissococcus"],
        handling: Handling::Standstill,
        places: [
            "check current list (present in NSW)",
            "notifiable organism, exotic",
            "notifiable disease",
            "not listed (national rules)",
            "state law varies",
        ],
        signs: "uncapped larvae twisted or slumped, white to yellow to brown, silvery tracheae visible; loose rubbery scale; not ropy; sour or no smell",
        must: "as AFB until told otherwise; England: close, call the bee inspector, move nothing",
    },
    Condition {
        name: "Varroa destructor",
        words: &["varroa"],
        handling: Handling::Report,
        places: [
            "notifiable or reportable under changing orders; established since 2023",
            "not notifiable since the 2016 Order",
            "must be reported as soon as practicable once known (art 3A from 21 Apr 2021); one notice covers other hives at the place",
            "listed C+D+E",
            "not federally",
        ],
        signs: "mites on bees and pupae; deformed wings; spotted brood; chewed caps",
        must: "monitor, record count and method, report where required",
    },
    Condition {
        name: "Tropilaelaps spp.",
        words: &["tropilaelaps"],
        handling: Handling::Standstill,
        places: [
            "exotic, notifiable",
            "notifiable organism",
            "notifiable pest",
            "listed D+E",
            "not present; national survey looks for it",
        ],
        signs: "fast, long, light brown mites about 1 x 0.5 mm running on comb; deformed or dead pupae; perforated caps",
        must: "bump brood comb over white paper; report at once; move nothing",
    },
    Condition {
        name: "small hive beetle",
        words: &["hive beetle", "aethina"],
        handling: Handling::Standstill,
        places: [
            "established; check current list",
            "notifiable organism, exotic",
            "notifiable pest",
            "listed D+E",
            "established in many states",
        ],
        signs: "dark 5-7 mm beetles running from light; larvae 10-12 mm, three pairs of legs at the head end, spines on back, no silk; slimed, fermenting honey",
        must: "where notifiable report at once; elsewhere reduce space, do not leave wet combs, freeze combs",
    },
    Condition {
        name: "wax moth",
        words: &["wax moth", "galleria", "achroia"],
        handling: Handling::Tend,
        places: [
            "no (NT lists it)",
            "no",
            "no",
            "no",
            "no",
        ],
        signs: "silk tunnels and webbing, grey caterpillars with legs along body, boat-shaped cocoon pits in wood; no slime",
        must: "freeze or store combs cold and airy",
    },
    Condition {
        name: "chalkbrood",
        words: &["chalkbrood", "chalk brood", "ascosphaera"],
        handling: Handling::Tend,
        places: [
            "check current list (Vic and NT listed it)",
            "no",
            "no",
            "no",
            "no",
        ],
        signs: "hard white or grey-black mummies in cells and at the entrance; rattle",
        must: "strong colony, less damp, requeen, remove worst comb",
    },
    Condition {
        name: "sacbrood virus",
        words: &["sacbrood", "sac brood"],
        handling: Handling::Tend,
        places: [
            "no (NT lists it)",
            "no",
            "no",
            "no",
            "no",
        ],
        signs: "dead stretched larva with raised dark head, banana or gondola shape, fluid-filled skin, not ropy",
        must: "requeen if it persists",
    },
    Condition {
        name: "nosema",
        words: &["nosema"],
        handling: Handling::Tend,
        places: [
            "no in NSW by recall (Vic and NT listed it)",
            "no",
            "no",
            "no",
            "no",
        ],
        signs: "dysentery streaks (apis), crawlers, slow spring; needs microscope",
        must: "reduce stress, clean comb, sample to a lab",
    },
    Condition {
        name: "tracheal mite",
        words: &["tracheal", "acarapis"],
        handling: Handling::Report,
        places: [
            "exotic, notifiable",
            "notifiable organism",
            "not notifiable by recall",
            "not listed",
            "no",
        ],
        signs: "crawlers, K-wing; laboratory only",
        must: "report in AU and NZ",
    },
    Condition {
        name: "Asian or yellow-legged hornet",
        words: &["hornet", "vespa velutina"],
        handling: Handling::Report,
        places: [
            "exotic, report",
            "exotic, report",
            "must be reported to the Non-Native Species Secretariat",
            "invasive species of Union concern (Reg. 1143/2014)",
            "report to state authority",
        ],
        signs: "workers to 25 mm, queens to 30 mm; dark thorax; one yellow-orange band (4th segment); yellow leg ends; hawking at entrances",
        must: "photograph, note place and direction; e-mail alertnonnative@ceh.ac.uk (GB); do not go near a nest",
    },
    Condition {
        name: "other exotic bees, Braula, Cape bee, Africanised bee",
        words: &["braula", "cape bee", "africanised bee", "africanized bee", "exotic bee"],
        handling: Handling::Report,
        places: [
            "Braula notifiable across mainland Australia (2022); other exotic bees listed; hotline 1800 084 881",
            "Cape and Africanised bee notifiable; surveillance includes Braula; hotline 0800 809 966",
            "-",
            "-",
            "state law",
        ],
        signs: "unusual bees or lice",
        must: "report",
    },
];

/// The disease or pest that these words name; `None` when the reference does not have it, which says
/// nothing of the law.
pub fn condition(words: &str) -> Option<&'static Condition> {
    let words = words.to_lowercase();
    let named = |word: &&'static str| {
        // a short word must stand alone: "afb", not in "leafborer"
        if word.len() > 3 {
            words.contains(*word)
        } else {
            words
                .split(|c: char| !c.is_alphanumeric())
                .any(|w| w == *word)
        }
    };
    CONDITIONS
        .iter()
        .find(|condition| condition.words.iter().any(named))
}
