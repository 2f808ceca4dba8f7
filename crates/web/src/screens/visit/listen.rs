//! The voice on the screen: one target to listen, what is being said, whether it is deaf.

use leptos::prelude::*;

use super::phrases;
use crate::browser::wake::Awake;
use crate::parts::changing;
use crate::room::{Command, Room};
use crate::sound::use_sound;
use crate::texts;
use crate::texts::voice as words;
use crate::voice::turn::Hearing;
use crate::voice::use_voice;

/// The target that begins and ends listening; where the browser recognises no speech, the way to the
/// field, in which the keyboard's own dictation key works.
#[component]
pub fn Listen(
    /// The work.
    room: Room,
) -> impl IntoView {
    let voice = use_voice();
    let hearing = move || voice.hearing.get();
    let on = move || {
        !matches!(
            hearing(),
            Hearing::Off
                | Hearing::NotAllowed
                | Hearing::NoMicrophone
                | Hearing::NotHere
                | Hearing::NoRecogniser
        )
    };
    let class = changing::value(move || match hearing() {
        Hearing::Hears => "do listen hears",
        Hearing::Deaf | Hearing::NoNetwork | Hearing::Starting => "do listen deaf",
        _ => "do listen",
    });
    let sound = use_sound();
    let deaf_for_good = move || hearing() == Hearing::NoRecogniser;
    let toggle = move |_| {
        if deaf_for_good() {
            voice.touched();
            // within the tap: a phone shows its keyboard for no later focus
            phrases::to_the_field();
            return;
        }
        let listens = on();
        voice.toggle(room);
        if listens {
            sound.end();
        } else if let Some(visit) = room.with(|live| live.session().visit.to_string()) {
            sound.begin(visit, voice);
        }
    };
    let name = changing::value(move || match (deaf_for_good(), on()) {
        (true, _) => words::DICTATE,
        (false, true) => words::STOP,
        (false, false) => words::LISTEN,
    });
    // the way to the field is not a switch
    let pressed =
        changing::value(move || (!deaf_for_good()).then(|| if on() { "true" } else { "false" }));
    view! {
        <button type="button" id="listen" class=class aria-pressed=pressed
            on:click=toggle>
            <b>{name}</b> <span>{move || words::hearing(hearing())}</span>
        </button>
    }
}

/// What is being said, what to do when it is deaf, where the sound goes; and the threads from the work to
/// the voice.
#[component]
pub fn Voicing(
    /// The work.
    room: Room,
) -> impl IntoView {
    let voice = use_voice();
    // only what comes from here on is told
    Effect::new(move |before: Option<u32>| {
        let answer = room.answer.get();
        if before.is_some_and(|before| before != answer.nth) {
            voice.say(&answer.words);
        }
        answer.nth
    });
    Effect::new(move |before: Option<(u32, u32)>| {
        let heard = room.heard.get();
        if let Some(before) = before.filter(|before| *before != heard) {
            voice.sound(heard.0 != before.0);
        }
        heard
    });
    Effect::new(move |before: Option<u32>| {
        let (command, nth): (Option<Command>, u32) = room.command.get();
        if let (Some(command), true) = (command, before.is_some_and(|before| before != nth)) {
            voice.obey(command);
        }
        nth
    });
    let awake = StoredValue::new_local(Awake::keep());
    on_cleanup(move || drop(awake.try_update_value(Option::take)));
    let sound = use_sound();
    let interim = changing::value(move || voice.interim.get());
    let remedy = move || words::remedy(voice.hearing.get());
    // a browser gets no recogniser later; without one there is no listening to record
    let can_listen = voice.hearing.get_untracked() != Hearing::NoRecogniser;
    // that the browser has no recogniser is no trouble of this visit
    let remedy_class = move || match voice.hearing.get() {
        Hearing::NoRecogniser => "notice calm",
        _ => "notice",
    };
    let where_to = move || match (voice.hearing.get(), voice.on_device.get()) {
        (Hearing::NoRecogniser, _) => None,
        (_, Some(true)) => Some(words::ON_DEVICE),
        _ => Some(words::MAY_LEAVE),
    };
    view! {
        <div class="voicing">
            <p class="interim" id="interim" aria-live="off">{interim}</p>
            {changing::view(move || remedy().map(|words| view! { <p class=remedy_class() id="deaf" role="status">{words}</p> }))}
            <label class="choice">
                <input type="checkbox" id="aloud" prop:checked=move || voice.aloud()
                    on:change=move |_| voice.set_aloud(!untrack(|| voice.aloud())) />
                <span>{words::ALOUD}</span>
            </label>
            {can_listen.then(|| view! {
                <label class="choice">
                    <input type="checkbox" id="record-sound" prop:checked=move || sound.wanted()
                        on:change=move |_| sound.set_wanted(!untrack(|| sound.wanted())) />
                    <span>{texts::sound::RECORD}</span>
                </label>
            })}
            {changing::view(move || sound.running.get().then(|| view! { <p class="quiet" id="recording">{texts::sound::RUNNING}</p> }))}
            {changing::view(move || sound.yields().then(|| view! { <p class="notice calm" id="one-at-a-time" role="status">{texts::sound::ONE_AT_A_TIME}</p> }))}
            {changing::view(move || {
                let trouble = sound.trouble.get();
                (!trouble.is_empty()).then(|| view! { <p class="notice" role="status">{trouble}</p> })
            })}
            {changing::view(move || where_to().map(|words| view! { <p class="quiet">{words}</p> }))}
        </div>
    }
}
