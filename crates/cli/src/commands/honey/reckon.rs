//! Sums that record nothing: moisture, syrup, net weights.

use comb::{Mass, Temperature, Volume};
use honey::net_quantity::{SampleVerdict, sample_test};
use honey::region::CHECK_WITH_AUTHORITY;
use honey::{HoneyError, Reading, Region, Syrup, density};
use house::HouseError;
use house::reading::{Judged, Scale};
use serde_json::json;

use super::Context;
use crate::failure::Failure;
use crate::honey_args::{ReadingArgs, SyrupArgs};
use crate::out;

/// The reading that was typed.
pub(super) fn reading(args: &ReadingArgs) -> Result<Reading, Failure> {
    let at = args.celsius.map(Temperature::celsius);
    let scales = [
        (Scale::Index, args.index),
        (Scale::Brix, args.brix),
        (Scale::Water, args.water),
        (Scale::Laboratory, args.lab),
    ];
    let told = scales
        .into_iter()
        .find_map(|(scale, figure)| Some((scale, figure?)));
    let (scale, figure) = told.ok_or_else(|| Failure::input("no reading was given"))?;
    Ok(house::reading::reading(scale, figure, at)?)
}

/// Prints what a reading means.
pub(super) fn moisture(
    context: &Context,
    args: &ReadingArgs,
    region: Option<Region>,
) -> Result<(), Failure> {
    let moisture = reading(args)?.moisture()?;
    let judged = Judged::of(moisture, region);
    let (keeps, limit) = (judged.keeping, judged.limit);
    let kg_per_l = density::density(moisture, Temperature::celsius(20.0)).ok();
    if context.json {
        return out::json(&json!({
            "moisture_pct": moisture,
            "keeping": keeps,
            "density_20_c_kg_per_l": kg_per_l,
            "limit": limit,
            "within_limit": judged.within_limit(),
        }));
    }
    out::line(out::strong(&format!("{moisture} water")));
    out::folded("Keeping: ", keeps.advice());
    if let Some(kg_per_l) = kg_per_l {
        out::line(format!("Density: {kg_per_l:.4} kg/L at 20 C"));
    }
    match (region, limit) {
        (Some(region), Some(limit)) => {
            let verdict = if limit.admits_moisture(moisture) {
                "within"
            } else {
                "over"
            };
            out::folded(
                &format!("{region}: "),
                &format!(
                    "{verdict} the limit of {} % ({}; {CHECK_WITH_AUTHORITY})",
                    limit.value, limit.instrument
                ),
            );
        }
        (Some(region), None) => out::line(format!("{region}: no general limit known here")),
        (None, _) => out::line("Say --region to see the limit where you sell."),
    }
    Ok(())
}

/// Prints what to weigh for a syrup.
pub(super) fn syrup(context: &Context, args: &SyrupArgs) -> Result<(), Failure> {
    let (sugar_parts, water_parts) = args.parts;
    let syrup = match (args.litres, args.sugar) {
        (Some(litres), _) => Syrup::for_volume(litres, sugar_parts, water_parts)?,
        (None, Some(sugar)) => {
            if !(sugar_parts > 0.0 && water_parts > 0.0) {
                return Err(Failure::input("a recipe needs sugar and water"));
            }
            Syrup::by_mass(sugar, sugar * (water_parts / sugar_parts))?
        }
        (None, None) => return Err(Failure::input("say --litres or --sugar")),
    };
    let made: Volume = syrup.volume()?;
    let crystals = syrup.crystallises_at(Temperature::celsius(args.celsius));
    let (low, likely, high) = syrup.stores();
    if context.json {
        return out::json(&json!({
            "sugar_kg": syrup.sugar_kg,
            "water_kg": syrup.water_kg,
            "brix": syrup.brix(),
            "litres": made.to_litres(),
            "crystallises": crystals.as_ref().ok(),
            "stores_kg": [low, likely, high],
        }));
    }
    out::line(format!(
        "{:.2} kg white sugar and {:.2} kg water make {:.2} L, {:.1} Bx",
        syrup.sugar_kg.to_kg(),
        syrup.water_kg.to_kg(),
        made.to_litres(),
        syrup.brix()
    ));
    match crystals {
        Ok(true) => out::line(format!("It drops crystals at {} C.", args.celsius)),
        Ok(false) => out::line(format!("No crystals at {} C.", args.celsius)),
        Err(why) => out::folded("Crystals: ", &why.to_string()),
    }
    out::folded(
        "Stores: ",
        &format!(
            "about {:.1} kg ({:.1} to {:.1}), an estimate (common practice, no source)",
            likely.to_kg(),
            low.to_kg(),
            high.to_kg()
        ),
    );
    out::folded(
        "Mind: ",
        "stores made of syrup are not honey and must never go into the lots. White sugar only; \
         never honey of another or an unknown yard.",
    );
    Ok(())
}

/// Judges weighed jars.
pub(super) fn weights(
    context: &Context,
    net: Mass,
    grams: &[f64],
    region: Option<Region>,
) -> Result<(), Failure> {
    let region = region.ok_or(HouseError::NoRegion)?;
    let jars: Vec<Mass> = grams.iter().copied().map(Mass::grams).collect();
    let test = sample_test(region, net, &jars).map_err(|why| match why {
        HoneyError::NotPositive { .. } => Failure::from(why)
            .help("Give the net weight of each jar: gross less the weight of that empty jar."),
        why => why.into(),
    })?;
    if context.json {
        return out::json(&test);
    }
    let words = |verdict: SampleVerdict| match verdict {
        SampleVerdict::Passes => "passes".to_owned(),
        SampleVerdict::WeighMore { at_least } => format!("weigh at least {at_least} to tell"),
        SampleVerdict::Fails => "must not go out like this".to_owned(),
    };
    out::line(format!(
        "{} jars, mean {:.1} g of {:.0} g; under nominal {}, under {:.1} g {}, under {:.1} g {}",
        test.jars,
        test.mean_kg.to_grams(),
        test.nominal_kg.to_grams(),
        test.below_nominal,
        test.t1_kg.to_grams(),
        test.below_t1,
        test.t2_kg.to_grams(),
        test.below_t2
    ));
    out::line(format!("Average system: {}", words(test.average_system)));
    out::line(format!(
        "No jar under nominal: {}",
        words(test.minimum_system)
    ));
    out::folded(&format!("{region}: "), CHECK_WITH_AUTHORITY);
    Ok(())
}
