//! `combwright season`: how much must stay for this colony in this place, and the outlook.

mod assumed;

use std::path::{Path, PathBuf};

use advice::advise::climate_of;
use advice::on_record::{bees_held, forage_guess, means, spring};
use advice::reserve::ModelReserve;
use advice::season_model::{ModelAsk, full_comb};
use comb::{Mass, ToldIn};
use hive::{ApiaryId, Hive, Yard};
use jiff::civil::Date;
use season::calibrate::{Calibration, Weighing};
use season::draw;
use season::report::{Ask, Report, report};
use season::reserve::Question;
use season::weather::{YearOfMonths, read_csv};
use season::{Forecast, Place, Series, Setting, Source, Years};
use serde::Serialize;

use super::Context;
use crate::args::{Forage, SeasonArgs};
use crate::failure::Failure;
use crate::journal::hive_named;
use crate::out;
use assumed::{Known, told};

/// What is printed as JSON.
#[derive(Debug, Serialize)]
struct Sheet<'a> {
    hive: &'a str,
    colony: season::Colony,
    assumed: &'a [String],
    report: &'a Report,
}

/// Runs the command.
pub(crate) async fn season(context: &Context, args: SeasonArgs) -> Result<(), Failure> {
    let on = context.instant(args.on.as_deref())?;
    let yard = context.yard().await?;
    let yard = if args.on.is_some() {
        yard.as_of(on.timestamp())
    } else {
        yard
    };
    let hive = hive_named(&yard, &args.hive)?;
    let mut known = Known::default();
    let place = place(&yard, hive, &args, &mut known)?;
    let source = weather(&args, &context.folder, &yard, hive, place, &mut known)?;
    let years = place.years(&source, args.seed)?;
    let forecast = args.forecast.as_deref().map(forecast).transpose()?;
    let scales = advice::stores::Scales::of(hive, yard.hives());
    let colony = known.colony(hive, &scales, &told(&args))?;
    let from = on.date();
    let until = match &args.until {
        Some(text) => text.parse::<Date>().map_err(|_| {
            Failure::input(format!("\"{text}\" is no day")).help("Write a day as 2027-09-01.")
        })?,
        None => spring(from, place.latitude),
    };
    let mut question = Question::new(from, until);
    question.sure = args.sure / 100.0;
    question.runs = args.runs;
    question.seed = args.seed;
    let calibration = calibration(&args)?;
    let setting = Setting {
        place,
        years: &years,
        forage: forage(&args, &yard, hive, place, &mut known),
        warmer_k: place.moved_from(args.station_altitude),
        forecast: forecast.as_ref(),
        calibration,
    };
    let comb = scales.ordinary_comb();
    let ask = Ask {
        question,
        comb: full_comb(comb),
        take_kg: comb * args.take,
        bees_held: bees_held(hive),
        outlook_days: 365,
        outlook_runs: args.runs,
    };
    let answer = report(&setting, &colony, &ask)?;
    if let Some(folder) = &args.svg {
        pictures(&answer, folder, context.told_in)?;
    }
    if context.json {
        let assumed = known.words();
        return out::json(&Sheet {
            hive: &hive.name,
            colony,
            assumed,
            report: &answer,
        });
    }
    out::line(out::strong(&hive.name));
    out::line(draw::sheet(&answer, context.told_in).trim_end());
    out::line("");
    for words in known.words() {
        out::folded("Assumed: ", words);
    }
    if let Some(folder) = &args.svg {
        out::line(format!("Pictures written to {}.", folder.display()));
    }
    Ok(())
}

/// Where the hive stands: as told here, else as its apiary has it, else unknown and assumed.
fn place(yard: &Yard, hive: &Hive, args: &SeasonArgs, known: &mut Known) -> Result<Place, Failure> {
    let apiary = hive
        .apiary
        .and_then(|a| yard.apiary(a))
        .and_then(|a| a.place);
    let latitude = args.latitude.or(apiary.map(|p| p.latitude));
    let altitude = args.altitude.or(apiary.and_then(|p| p.altitude_m));
    let Some(latitude) = latitude else {
        return Err(Failure::input(format!("where {} stands is not known", hive.name)).help(
            "Tell its apiary's place: combwright yard apiary NAME --latitude -34.4 --longitude 150.9, \
             or give --latitude here.",
        ));
    };
    if altitude.is_none() {
        known.assume("the weather was measured at the yard's own height");
    }
    Ok(Place::new(latitude, altitude)?)
}

fn weather(
    args: &SeasonArgs,
    folder: &Path,
    yard: &Yard,
    hive: &Hive,
    place: Place,
    known: &mut Known,
) -> Result<Source, Failure> {
    if let Some(file) = &args.weather {
        let (text, doubts) = checked_weather(file)?;
        for doubt in &doubts {
            known.assume(format!("{}: {doubt}", file.display()));
        }
        return Ok(Source::Daily(read_csv(&text)?.series));
    }
    if args.means.is_none()
        && let Some(apiary) = hive.apiary
        && let Some(series) = kept_weather(folder, apiary)?
    {
        return Ok(Source::Daily(series));
    }
    if let Some(file) = &args.means {
        let text = super::text_of(file)?;
        let months: YearOfMonths = serde_json::from_str(&text).map_err(|why| {
            Failure::input(format!("{}: {why}", file.display())).help(
                "Give twelve objects, January first, each with tmin_c, tmax_c, rain_mm, rain_days and, if you \
                 like, spread_k: [{\"tmin_c\": 12, \"tmax_c\": 22, \"rain_mm\": 80, \"rain_days\": 8}, ..]",
            )
        })?;
        months.check()?;
        return Ok(Source::Monthly(Box::new(months)));
    }
    known.assume(
        "weather made up from invented monthly means for this kind of winter; give --weather FILE.csv or \
         --means FILE.json of your own place before you rely on any figure here",
    );
    let months = means(climate_of(yard, hive), place.latitude);
    Ok(Source::Monthly(Box::new(months)))
}

fn forecast(file: &Path) -> Result<Forecast, Failure> {
    Ok(Forecast::from_json(&super::text_of(file)?)?)
}

fn forage(
    args: &SeasonArgs,
    yard: &Yard,
    hive: &Hive,
    place: Place,
    known: &mut Known,
) -> season::Forage {
    let kind = args.forage.map(|forage| match forage {
        Forage::MildCoast => season::Climate::MildCoast,
        Forage::ColdContinental => season::Climate::ColdContinental,
        Forage::Temperate => season::Climate::Temperate,
        Forage::DrySummer => season::Climate::DrySummer,
        Forage::Monsoon => season::Climate::Monsoon,
    });
    let kind = kind.unwrap_or_else(|| {
        known.assume(
            "the forage calendar is a first guess for this kind of place; --forage chooses another",
        );
        forage_guess(climate_of(yard, hive))
    });
    kind.forage(place.latitude)
}

/// What the season model says must stay, where the weather of the hive's place is kept and its colony
/// can be told from the record; else nothing, and the rule of thumb stands alone.
pub(crate) fn model_reserve(
    folder: &Path,
    yard: &Yard,
    hive: &Hive,
    from: Date,
) -> Result<Option<ModelReserve>, Failure> {
    let Some(ask) = ModelAsk::of(yard, hive, from) else {
        return Ok(None);
    };
    let apiary = hive.apiary.and_then(|apiary| yard.apiary(apiary));
    let weather = apiary.map(|apiary| kept_weather(folder, apiary.id));
    match weather.transpose()?.flatten() {
        Some(weather) => Ok(ask.answer(&weather)?),
        None => Ok(None),
    }
}

/// A weather file that the model can use: its text, and what is doubtful in it.
pub(crate) fn checked_weather(file: &Path) -> Result<(String, Vec<String>), Failure> {
    let text = super::text_of(file)?;
    let read =
        read_csv(&text).map_err(|why| Failure::input(format!("{}: {why}", file.display())))?;
    Years::new(&read.series).map_err(|why| Failure::input(format!("{}: {why}", file.display())))?;
    let doubts = read.doubts.iter().map(ToString::to_string).collect();
    Ok((text, doubts))
}

/// Keeps the weather of a place beside the journal.
pub(crate) fn keep_weather(folder: &Path, apiary: ApiaryId, text: &str) -> Result<(), Failure> {
    let file = weather_file(folder, apiary);
    if let Some(parent) = file.parent() {
        std::fs::create_dir_all(parent).map_err(|why| {
            Failure::input(format!("{} cannot be made: {why}", parent.display()))
                .help("Name a folder that you may write to with --data.")
        })?;
    }
    super::write_whole(&file, text.as_bytes())
}

fn kept_weather(folder: &Path, apiary: ApiaryId) -> Result<Option<Series>, Failure> {
    let file = weather_file(folder, apiary);
    if !file.exists() {
        return Ok(None);
    }
    Ok(Some(read_csv(&super::text_of(&file)?)?.series))
}

fn weather_file(folder: &Path, apiary: ApiaryId) -> PathBuf {
    folder.join("weather").join(format!("{apiary}.csv"))
}

/// The keeper's own weighings, as LOST:MODELLED in kilograms.
fn calibration(args: &SeasonArgs) -> Result<Calibration, Failure> {
    let weighings = args
        .weighed
        .iter()
        .map(|text| {
            let pair = text.split_once(':').and_then(|(lost, modelled)| {
                Some((lost.trim().parse().ok()?, modelled.trim().parse().ok()?))
            });
            let (lost, modelled) = pair.ok_or_else(|| {
                Failure::input(format!("\"{text}\" is no weighing")).help(
                    "Give what the hive lost and what the model said, in kg: --weighed 9.5:7.0",
                )
            })?;
            Ok(Weighing {
                lost_kg: Mass::kg(lost),
                modelled_kg: Mass::kg(modelled),
            })
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    if weighings.is_empty() {
        return Ok(Calibration::default());
    }
    Ok(Calibration::from_weighings(&weighings)?)
}

fn pictures(told: &Report, folder: &Path, told_in: ToldIn) -> Result<(), Failure> {
    std::fs::create_dir_all(folder).map_err(|why| {
        Failure::input(format!("{} cannot be made: {why}", folder.display()))
            .help("Name a folder that you may write to.")
    })?;
    let needed = told.reserve.needed_kg;
    let style = draw::Style::file(told_in);
    let save = |name: &str, svg: String| super::write_whole(&folder.join(name), svg.as_bytes());
    save(
        "stores.svg",
        draw::stores_fan(&told.outlook, needed, &style),
    )?;
    save("bees.svg", draw::bees_fan(&told.outlook, &style))?;
    save(
        "drivers.svg",
        draw::bar_chart(&told.drivers, needed, &style),
    )?;
    save("forage.svg", draw::forage_ribbon(&told.forage, &style))
}
