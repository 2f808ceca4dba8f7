//! Which fields an entry's correction has, and the entry that they make.

use comb::contents::Holding;
use comb::typed::number;
use comb::{Contents, FaceContents, Mass, Share, Temperature};
use hive::entry::{Decision, Harvest};
use hive::{BarId, Hive, Known};

use crate::preferences::Units;
use crate::texts::records::field as words;

/// One field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Field {
    /// What it asks.
    pub(super) label: String,
    /// What stands in it.
    pub(super) value: String,
    /// How it is filled in.
    pub(super) kind: Kind,
}

/// How a field is filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// Any words.
    Text,
    /// A number.
    Number,
    /// One of these, key and words.
    Choice(&'static [(&'static str, &'static str)]),
}

const DECISIONS: &[(&str, &str)] = &[
    ("take", "take"),
    ("leave", "leave"),
    ("undecided", "not decided"),
];
const HARVESTS: &[(&str, &str)] = &[
    ("cut", "cut, a strip left on the bar"),
    ("whole", "carried away on its bar"),
    ("broken", "broke off and was carried away"),
];

const HELD: &[(&str, &str)] = &[
    ("untold", "not told"),
    ("yes", "yes"),
    ("no", "looked for, none"),
];

/// The fields of an entry; none for a kind that has no form.
pub(super) fn fields(known: &Known, hive: Option<&Hive>, units: Units) -> Vec<Field> {
    Form::Asking(Vec::new()).through(known, hive, units).0
}

/// The entry with these values in the order of [`fields`].
///
/// # Errors
/// What is wrong with the first field that cannot be read, in words.
pub(super) fn corrected(
    known: &Known,
    hive: Option<&Hive>,
    units: Units,
    values: &[String],
) -> Result<Known, String> {
    let values = values.iter().map(|value| value.trim().to_owned()).collect();
    Form::Reading(values, None).through(known, hive, units).1
}

/// Both directions go through the same list of fields, so that they cannot come apart.
enum Form {
    /// Collects fields.
    Asking(Vec<Field>),
    /// Takes values off the front; remembers the first that cannot be read.
    Reading(std::collections::VecDeque<String>, Option<String>),
}

impl Form {
    fn through(
        mut self,
        known: &Known,
        hive: Option<&Hive>,
        units: Units,
    ) -> (Vec<Field>, Result<Known, String>) {
        let mut made = known.clone();
        self.visit(&mut made, hive, units);
        match self {
            Self::Asking(fields) => (fields, Ok(made)),
            Self::Reading(_, None) => (Vec::new(), Ok(made)),
            Self::Reading(_, Some(wrong)) => (Vec::new(), Err(wrong)),
        }
    }

    fn visit(&mut self, known: &mut Known, hive: Option<&Hive>, units: Units) {
        match known {
            Known::Note { text } => self.text(words::TEXT, text),
            Known::HiveRenamed { name } => self.text(words::NAME, name),
            Known::HiveEnded { why } => self.text(words::WHY, why),
            Known::QueenCells { bar, count } => {
                self.some_bar(bar, hive);
                self.count(words::COUNT, count);
            }
            Known::QueenSeen { bar } => self.some_bar(bar, hive),
            Known::TakenCounted { count } => self.count(words::COUNT, count),
            Known::MiteWash { mites, bees } => {
                self.count(words::MITES, mites);
                self.count(words::BEES, bees);
            }
            Known::Fed {
                food,
                litres,
                mass_kg,
            } => {
                self.text(words::FOOD, food);
                self.figure(words::LITRES, litres);
                self.mass(mass_kg, units);
            }
            Known::WeatherNoted { weather } => {
                self.temperature(&mut weather.temperature_c, units);
                let mut said = weather.words.clone().unwrap_or_default();
                self.any_text(words::WEATHER, &mut said);
                weather.words = (!said.is_empty()).then_some(said);
            }
            Known::Decided { bar, decision, .. } => {
                self.bar(bar, hive);
                let key = match decision {
                    Decision::Take => "take",
                    Decision::Leave => "leave",
                    Decision::Undecided => "undecided",
                };
                *decision = match self.choice(words::DECISION, key, DECISIONS).as_str() {
                    "take" => Decision::Take,
                    "leave" => Decision::Leave,
                    _ => Decision::Undecided,
                };
            }
            Known::CombTaken { bar, how } => {
                self.bar(bar, hive);
                let key = match how {
                    Harvest::Cut => "cut",
                    Harvest::Whole => "whole",
                    Harvest::Broken => "broken",
                };
                *how = match self.choice(words::HARVEST, key, HARVESTS).as_str() {
                    "whole" => Harvest::Whole,
                    "broken" => Harvest::Broken,
                    _ => Harvest::Cut,
                };
            }
            Known::SetAside { bar } | Known::PutBack { bar } | Known::BarTurned { bar } => {
                self.bar(bar, hive);
            }
            Known::CombSeen { bar, contents } => {
                self.bar(bar, hive);
                self.contents(contents, units);
            }
            _ => {}
        }
    }

    /// What was said of a comb, and the capping of both faces in any case.
    fn contents(&mut self, contents: &mut Contents, units: Units) {
        self.share(words::LEFT_CAPPED, &mut contents.left.capped_of_honey);
        self.share(words::RIGHT_CAPPED, &mut contents.right.capped_of_honey);
        for kind in Holding::ALL {
            self.held(kind, contents);
        }
        self.face(true, &mut contents.left);
        self.face(false, &mut contents.right);
        if contents.mass_kg.is_some() {
            self.mass(&mut contents.mass_kg, units);
        }
    }

    /// Whether the comb holds a kind of thing: told, told of its absence, or not told.
    fn held(&mut self, kind: Holding, contents: &mut Contents) {
        let before = if contents.present.contains(&kind) {
            "yes"
        } else if contents.absent.contains(&kind) {
            "no"
        } else {
            "untold"
        };
        let now = self.choice(&words::holds(kind.word()), before, HELD);
        if now == before {
            return;
        }
        contents.present.retain(|held| *held != kind);
        contents.absent.retain(|held| *held != kind);
        match now.as_str() {
            "yes" => contents.present.push(kind),
            "no" => contents.absent.push(kind),
            _ => {}
        }
    }

    fn face(&mut self, left: bool, face: &mut FaceContents) {
        let shares = [
            ("capped honey", &mut face.capped_honey),
            ("unripe honey", &mut face.unripe),
            ("pollen", &mut face.pollen),
            ("capped brood", &mut face.capped_brood),
            ("larvae", &mut face.larvae),
            ("eggs", &mut face.eggs),
            ("drone brood", &mut face.drone_brood),
            ("empty cells", &mut face.empty),
            ("not built", &mut face.bare),
        ];
        for (what, share) in shares {
            if share.is_some() {
                self.share(&words::share(left, what), share);
            }
        }
    }

    /// Asks, or gives what was typed.
    fn next(&mut self, label: &str, value: String, kind: Kind) -> Option<String> {
        match self {
            Self::Asking(fields) => {
                fields.push(Field {
                    label: label.to_owned(),
                    value,
                    kind,
                });
                None
            }
            Self::Reading(values, _) => values.pop_front(),
        }
    }

    fn wrong(&mut self, words: String) {
        if let Self::Reading(_, wrong) = self {
            wrong.get_or_insert(words);
        }
    }

    fn any_text(&mut self, label: &str, text: &mut String) {
        if let Some(typed) = self.next(label, text.clone(), Kind::Text) {
            *text = typed;
        }
    }

    fn text(&mut self, label: &str, text: &mut String) {
        self.any_text(label, text);
        if text.is_empty() {
            self.wrong(words::needs_words(label));
        }
    }

    fn count(&mut self, label: &str, count: &mut u32) {
        if let Some(typed) = self.next(label, count.to_string(), Kind::Number) {
            match typed.parse() {
                Ok(number) => *count = number,
                Err(_) => self.wrong(words::no_count(label)),
            }
        }
    }

    fn figure(&mut self, label: &str, figure: &mut Option<f64>) {
        let shown = figure.map(|figure| figure.to_string()).unwrap_or_default();
        let read = |typed: &str| number(typed).filter(|figure| *figure >= 0.0);
        self.measure((label, shown), words::no_figure(label), read, figure);
    }

    fn mass(&mut self, mass: &mut Option<Mass>, units: Units) {
        let shown = mass.map(|mass| match units {
            Units::Metric => mass.to_kg().to_string(),
            Units::Inches => units.typed_mass(mass),
        });
        let label = format!("{}, {}", words::MASS, units.mass_sign());
        let read = |typed: &str| units.mass(typed).filter(|mass| *mass >= Mass::ZERO);
        let wrong = words::no_figure(&label);
        self.measure((&label, shown.unwrap_or_default()), wrong, read, mass);
    }

    fn temperature(&mut self, temperature: &mut Option<Temperature>, units: Units) {
        let shown = temperature.map(|temperature| match units {
            Units::Metric => temperature.to_celsius().to_string(),
            Units::Inches => format!("{:.0}", temperature.to_fahrenheit()),
        });
        let label = words::temperature(units);
        let read = |typed: &str| units.temperature(typed);
        let wrong = words::no_number(label);
        self.measure((label, shown.unwrap_or_default()), wrong, read, temperature);
    }

    /// What was not touched stays to the last digit.
    fn measure<T>(
        &mut self,
        (label, shown): (&str, String),
        wrong: String,
        read: impl Fn(&str) -> Option<T>,
        measure: &mut Option<T>,
    ) {
        let Some(typed) = self.next(label, shown.clone(), Kind::Number) else {
            return;
        };
        if typed == shown {
            return;
        }
        *measure = read(&typed);
        if measure.is_none() && !typed.is_empty() {
            self.wrong(wrong);
        }
    }

    fn share(&mut self, label: &str, share: &mut Option<Share>) {
        let percent = |share: Share| format!("{:.0}", share.to_percent());
        let shown = share.map(percent).unwrap_or_default();
        let Some(typed) = self.next(label, shown.clone(), Kind::Number) else {
            return;
        };
        if typed == shown {
            return;
        }
        *share = number(&typed).and_then(|percent| Share::percent(percent).ok());
        if share.is_none() && !typed.is_empty() {
            self.wrong(words::no_share(label));
        }
    }

    fn choice(
        &mut self,
        label: &str,
        key: &str,
        of: &'static [(&'static str, &'static str)],
    ) -> String {
        self.next(label, key.to_owned(), Kind::Choice(of))
            .unwrap_or_else(|| key.to_owned())
    }

    fn bar(&mut self, bar: &mut BarId, hive: Option<&Hive>) {
        let mut some = Some(*bar);
        self.some_bar(&mut some, hive);
        match some {
            Some(found) => *bar = found,
            None => self.wrong(words::no_bar(&numbers_of(hive))),
        }
    }

    fn some_bar(&mut self, bar: &mut Option<BarId>, hive: Option<&Hive>) {
        let number = bar.and_then(|bar| hive?.bar(bar)).map(|bar| bar.number);
        let shown = number.map(|number| number.to_string()).unwrap_or_default();
        let Some(typed) = self.next(words::BAR, shown.clone(), Kind::Number) else {
            return;
        };
        if typed == shown {
            return;
        }
        let found = typed
            .parse()
            .ok()
            .and_then(|number| hive?.bar_numbered(number).ok())
            .map(|bar| bar.id);
        if found.is_none() && !typed.is_empty() {
            self.wrong(words::no_bar(&numbers_of(hive)));
        }
        *bar = found;
    }
}

/// The bars that lie in the hive, rising: "1 to 28".
fn numbers_of(hive: Option<&Hive>) -> String {
    let mut numbers: Vec<u32> = hive
        .into_iter()
        .flat_map(Hive::bars_in_row)
        .map(|bar| bar.number)
        .collect();
    numbers.sort_unstable();
    hive::numbers::ranges(&numbers)
}

#[cfg(test)]
mod tests {
    use super::*;
    use hive::entry::Weather;
    use uuid::Uuid;

    fn values(known: &Known) -> Vec<String> {
        fields(known, None, Units::Metric)
            .into_iter()
            .map(|f| f.value)
            .collect()
    }

    fn all() -> Vec<Known> {
        let bar = BarId(Uuid::from_u128(1));
        let third = Share::new(1.0 / 3.0).ok();
        let contents = Contents {
            left: FaceContents {
                capped_of_honey: third,
                pollen: third,
                ..FaceContents::default()
            },
            mass_kg: Some(Mass::kg(1.234_567)),
            ..Contents::default()
        };
        vec![
            Known::Note {
                text: "wattle".into(),
            },
            Known::MiteWash {
                mites: 3,
                bees: 300,
            },
            Known::Fed {
                food: "1:1 syrup".into(),
                litres: Some(0.1 + 0.2),
                mass_kg: None,
            },
            Known::WeatherNoted {
                weather: Weather {
                    temperature_c: Some(Temperature::celsius(24.5)),
                    words: None,
                },
            },
            Known::CombSeen { bar, contents },
            Known::CombTaken {
                bar,
                how: Harvest::Whole,
            },
            Known::QueenCells {
                bar: None,
                count: 2,
            },
        ]
    }

    #[test]
    fn a_form_that_was_not_touched_changes_nothing() {
        for (known, units) in all()
            .into_iter()
            .flat_map(|known| Units::ALL.map(|u| (known.clone(), u)))
        {
            let asked = fields(&known, None, units).into_iter();
            let typed: Vec<String> = asked.map(|field| field.value).collect();
            let same = corrected(&known, None, units, &typed);
            assert_eq!(same.as_ref(), Ok(&known));
        }
    }

    #[test]
    fn a_field_changes_what_it_names_and_empty_means_not_said() {
        let wash = Known::MiteWash {
            mites: 3,
            bees: 300,
        };
        let made = corrected(&wash, None, Units::Metric, &["13".into(), "300".into()]);
        assert_eq!(
            made,
            Ok(Known::MiteWash {
                mites: 13,
                bees: 300
            })
        );
        let seen = &all()[4];
        let mut typed = values(seen);
        typed[1] = String::new();
        typed[2] = "80".into();
        let Ok(Known::CombSeen { contents, .. }) = corrected(seen, None, Units::Metric, &typed)
        else {
            panic!("it can be read");
        };
        assert_eq!(contents.left.capped_of_honey, None);
        assert_eq!(contents.right.capped_of_honey, Share::percent(80.0).ok());
    }

    #[test]
    fn what_a_comb_holds_is_told_denied_or_not_told() {
        let seen = &all()[4];
        let asked = fields(seen, None, Units::Metric);
        let of = |kind: Holding| {
            let label = words::holds(kind.word());
            let found = asked.iter().position(|field| field.label == label);
            found.expect("each kind has a field")
        };
        let mut typed = values(seen);
        typed[of(Holding::WorkerBrood)] = "yes".into();
        typed[of(Holding::Eggs)] = "no".into();
        let Ok(made) = corrected(seen, None, Units::Metric, &typed) else {
            panic!("it can be read");
        };
        let Known::CombSeen { contents, .. } = &made else {
            panic!("it is a comb seen");
        };
        assert_eq!(contents.present, [Holding::WorkerBrood]);
        assert_eq!(contents.absent, [Holding::Eggs]);
        typed[of(Holding::WorkerBrood)] = "untold".into();
        typed[of(Holding::Eggs)] = "untold".into();
        assert_eq!(
            corrected(&made, None, Units::Metric, &typed).as_ref(),
            Ok(seen)
        );
    }

    /// 68 F are 20 C; a pound has 0.45359237 kg by definition.
    #[test]
    fn measures_are_typed_in_the_units_of_the_device() {
        let fed = Known::Fed {
            food: "fondant".into(),
            litres: None,
            mass_kg: Some(Mass::pounds(2.0)),
        };
        let asked = fields(&fed, None, Units::Inches);
        assert_eq!(
            (asked[2].label.as_str(), asked[2].value.as_str()),
            ("Mass, lb", "2")
        );
        let typed = ["fondant", "", "3"].map(str::to_owned);
        let Ok(Known::Fed { mass_kg, .. }) = corrected(&fed, None, Units::Inches, &typed) else {
            panic!("it can be read");
        };
        assert_eq!(mass_kg, Some(Mass::pounds(3.0)));
        let mild = Known::WeatherNoted {
            weather: Weather {
                temperature_c: Some(Temperature::celsius(20.0)),
                words: None,
            },
        };
        let asked = fields(&mild, None, Units::Inches);
        assert_eq!(
            (asked[0].label.as_str(), asked[0].value.as_str()),
            ("Degrees F", "68")
        );
    }

    #[test]
    fn what_cannot_be_read_is_named_by_its_field() {
        let note = Known::Note { text: "x".into() };
        assert_eq!(
            corrected(&note, None, Units::Metric, &[" ".into()]),
            Err(words::needs_words(words::TEXT))
        );
        let seen = &all()[4];
        let mut typed = values(seen);
        typed[1] = "180".into();
        assert_eq!(
            corrected(seen, None, Units::Metric, &typed),
            Err(words::no_share(words::LEFT_CAPPED))
        );
        typed[1] = "50".into();
        typed[0] = "99".into();
        assert_eq!(
            corrected(seen, None, Units::Metric, &typed),
            Err(words::no_bar(""))
        );
    }
}
