//! The section through time: the hive as it stood on any day.

use std::collections::BTreeSet;

use advice::advise::Advice;
use hive::{BarId, HiveId, Yard};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan as _, ZonedDateTime};
use leptos::prelude::*;
use paper::{HiveSection, PictureOptions};

use super::life::OneLife;
use crate::advised::section_of;
use crate::browser::clock;
use crate::journal::use_journal;
use crate::parts::section::Section;
use crate::texts;
use crate::texts::hive as words;

/// Days on which something is on record, and how far the slider runs.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Calendar {
    first: Date,
    today: Date,
    recorded: BTreeSet<Date>,
}

impl Calendar {
    fn of(yard: &Yard, hive: HiveId, zone: &TimeZone, today: Date) -> Option<Self> {
        let began = zone.to_datetime(yard.hive(hive)?.started).date();
        let acts = yard.acts().iter();
        let recorded = acts
            .filter(|act| act.entry().hive == Some(hive))
            .map(|act| zone.to_datetime(act.effective()).date())
            .filter(|day| (began..=today).contains(day))
            .collect();
        Some(Self {
            first: began.min(today),
            today,
            recorded,
        })
    }

    fn last_step(&self) -> i32 {
        (self.today - self.first).get_days()
    }

    fn step_of(&self, day: Date) -> i32 {
        (day - self.first).get_days().clamp(0, self.last_step())
    }

    fn day_at(&self, step: i32) -> Date {
        let step = step.clamp(0, self.last_step());
        self.first.checked_add(step.days()).unwrap_or(self.today)
    }

    fn before(&self, day: Date) -> Option<Date> {
        self.recorded.range(..day).next_back().copied()
    }

    fn after(&self, day: Date) -> Option<Date> {
        let mut later = self.recorded.range(day..).filter(|later| **later > day);
        later.next().copied()
    }
}

/// The last instant of a day where the keeper is.
fn end_of(day: Date, zone: &TimeZone) -> Option<ZonedDateTime> {
    let next = day.tomorrow().ok()?.to_zoned_datetime(zone.clone()).ok()?;
    let last = Timestamp::from_second(next.timestamp().as_second() - 1).ok()?;
    Some(last.to_zoned_datetime(zone.clone()))
}

/// The picture, the slider under it, one comb's life.
#[component]
pub(super) fn ThroughTime(
    /// Which hive.
    hive: HiveId,
    /// The day shown; `None` is now.
    shown: RwSignal<Option<Date>>,
    /// Advice as of now.
    advice: Memo<Option<Result<Advice, String>>>,
) -> impl IntoView {
    let journal = use_journal();
    let zone = StoredValue::new(clock::time_zone());
    let today = clock::today();
    let calendar = Memo::new(move |_| {
        zone.with_value(|zone| {
            journal
                .yard
                .with(|yard| Calendar::of(yard, hive, zone, today))
        })
    });
    let day = move || shown.get().unwrap_or(today);
    let section = Memo::new(move |_| -> Option<HiveSection> {
        let yard = journal.yard.get();
        match shown.get() {
            None => {
                let advice = advice.get().and_then(Result::ok);
                Some(section_of(
                    yard.hive(hive)?,
                    advice.as_ref(),
                    &clock::now_here(),
                ))
            }
            // of a day that has been the record is shown, not what would be advised today
            Some(day) => {
                let on = zone.with_value(|zone| end_of(day, zone))?;
                let then = yard.as_of(on.timestamp());
                Some(section_of(then.hive(hive)?, None, &on))
            }
        }
    });
    let bar = RwSignal::new(None::<BarId>);
    let options = PictureOptions {
        // name and day stand above already
        with_heading: false,
        ..PictureOptions::default()
    };
    view! {
        <section class="through-time" aria-labelledby="through-time">
            <h2 id="through-time">{words::SECTION} " " {move || texts::days::day_and_year(day())}</h2>
            <Section id="section" section=section highlight=bar options
                on_bar=Callback::new(move |touched| bar.set(Some(touched))) />
            <Slider calendar shown today />
            <Combs section bar />
            <OneLife hive bar advice />
        </section>
    }
}

/// The slider and its buttons.
#[component]
fn Slider(
    calendar: Memo<Option<Calendar>>,
    shown: RwSignal<Option<Date>>,
    today: Date,
) -> impl IntoView {
    let day = move || shown.get().unwrap_or(today);
    let show = move |day: Date| shown.set((day != today).then_some(day));
    let with = move |of: &dyn Fn(&Calendar) -> i32| {
        calendar.with(|calendar| calendar.as_ref().map_or(0, of))
    };
    let slid = move |event: leptos::ev::Event| {
        let step: Option<i32> = event_target_value(&event).parse().ok();
        let day = calendar.with_untracked(|calendar| {
            calendar
                .as_ref()
                .zip(step)
                .map(|(calendar, step)| calendar.day_at(step))
        });
        if let Some(day) = day {
            show(day);
        }
    };
    let neighbour = move |of: fn(&Calendar, Date) -> Option<Date>| {
        let day = day();
        calendar.with(|calendar| calendar.as_ref().and_then(|calendar| of(calendar, day)))
    };
    let jump = move |of: fn(&Calendar, Date) -> Option<Date>| {
        if let Some(day) = neighbour(of) {
            show(day);
        }
    };
    let began = move || {
        calendar.with(|calendar| {
            calendar
                .as_ref()
                .map(|calendar| words::began(calendar.first))
        })
    };
    view! {
        <div class="slider">
            <label for="day">{words::SLIDER}</label>
            <input id="day" type="range" min="0" step="1"
                max=move || with(&Calendar::last_step)
                prop:value=move || { let day = day(); with(&|calendar| calendar.step_of(day)).to_string() }
                aria-valuetext=move || texts::days::day_and_year(day())
                on:input=slid />
            <div class="acts">
                <button type="button" id="earlier" class="quiet-button"
                    disabled=move || neighbour(Calendar::before).is_none()
                    on:click=move |_| jump(Calendar::before)>{words::EARLIER}</button>
                <button type="button" id="later" class="quiet-button"
                    disabled=move || neighbour(Calendar::after).is_none()
                    on:click=move |_| jump(Calendar::after)>{words::LATER}</button>
                <button type="button" id="now" class="quiet-button"
                    disabled=move || shown.get().is_none()
                    on:click=move |_| shown.set(None)>{words::NOW}</button>
            </div>
            <p class="hint">{words::SLIDER_HINT} " " {began}</p>
        </div>
    }
}

/// A button for each comb, for those who cannot tap the picture.
#[component]
fn Combs(section: Memo<Option<HiveSection>>, bar: RwSignal<Option<BarId>>) -> impl IntoView {
    let buttons = move || {
        section.with(|section| {
            let bars = section.iter().flat_map(HiveSection::bars);
            bars.map(|drawn| {
                let (id, number) = (drawn.id, drawn.number);
                let down = move || {
                    if bar.get() == Some(id) {
                        "true"
                    } else {
                        "false"
                    }
                };
                view! {
                    <li>
                        <button type="button" class="bar-number" aria-pressed=down
                            aria-label=words::bar(number)
                            on:click=move |_| bar.set(Some(id))>{number}</button>
                    </li>
                }
            })
            .collect_view()
        })
    };
    view! {
        <details class="bar-numbers">
            <summary>{words::COMBS}</summary>
            <p class="hint">{words::COMBS_HINT}</p>
            <ul>{buttons}</ul>
        </details>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(day: i8) -> Date {
        Date::new(2026, 11, day).expect("a day")
    }

    #[test]
    fn the_slider_runs_from_the_first_day_to_today_and_stops_at_recorded_ones() {
        let calendar = Calendar {
            first: day(1),
            today: day(20),
            recorded: [day(1), day(7), day(12)].into(),
        };
        assert_eq!((calendar.last_step(), calendar.step_of(day(7))), (19, 6));
        assert_eq!(calendar.day_at(6), day(7));
        assert_eq!(calendar.day_at(99), day(20));
        assert_eq!(calendar.before(day(7)), Some(day(1)));
        assert_eq!(calendar.after(day(7)), Some(day(12)));
        assert_eq!(calendar.after(day(12)), None);
    }

    #[test]
    fn a_day_ends_a_second_before_the_next_one() {
        let end = end_of(day(7), &TimeZone::UTC).expect("a day ends");
        assert_eq!(end.timestamp().to_string(), "2026-11-07T23:59:59Z");
    }
}
