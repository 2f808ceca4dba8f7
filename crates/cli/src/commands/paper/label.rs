//! `combwright paper label`: what the journal knows of a filling, as its region asks for it.

use comb::Area;
use honey::label::draft::{Given, LabelDraft, draft};
use honey::label::fields::{Duty, Field, rules};
use honey::label::words::names;
use honey::lots::{FillId, House, LotOrigin};
use honey::region::CHECK_WITH_AUTHORITY;
use paper::pdf::label::{set, sheets};
use paper::pdf::{Grid, Label, LabelLine, Printing, Role, Typeface};

use super::{Context, save};
use crate::commands::honey::house;
use crate::failure::Failure;
use crate::out;
use crate::paper_args::LabelArgs;

/// Runs the command.
pub(super) async fn label(context: &Context, args: LabelArgs) -> Result<(), Failure> {
    let kept = house(context).await?.1;
    let fill = kept.house.filling(&FillId::from(args.fill.as_str()))?;
    let lot = kept.house.lot(&fill.lot)?;
    let seller = kept.house.seller();
    let region = args
        .region
        .map(Into::into)
        .or(seller.region)
        .ok_or_else(|| {
            Failure::input("it is not known where this honey is sold")
                .help("Say --region, or once and for all: combwright honey seller --region uk")
        })?;
    let given = Given {
        name: Some(args.name.clone().unwrap_or_else(|| name(&lot.origin))),
        business: seller.business.clone(),
        storage: seller.storage.clone(),
        nutrition: seller.nutrition.clone(),
        ..Given::of(fill, lot)
    };
    let draft = draft(region, &given, Area::dm2(args.face / 100.0))?;
    missing(&draft, args.anyway)?;
    let label = Label {
        lines: lines(&draft),
        code: code(&kept.house, &fill.mark).filter(|_| !args.no_code),
    };
    let grid = Grid::read(&args.grid)?;
    let printing = Printing {
        start: args.start,
        cut_marks: args.cut_marks,
        test_print: args.test_print,
        ..Printing::on(grid)
    };
    let face = Typeface::shipped()?;
    let in_stock = usize::try_from(fill.in_stock).unwrap_or(usize::MAX);
    // a test print shows one label and the frames of all
    let count = if args.test_print {
        1
    } else {
        args.count.unwrap_or(in_stock).clamp(1, 10_000)
    };
    let done = set(&label, grid.label, printing.edge, &face).map_err(|why| {
        Failure::from(why)
            .help("Take a larger label (combwright paper grids), or shorten the words.")
    })?;
    let pages = sheets(&label, count, &printing, &face)?;
    save(
        context,
        &pages,
        &format!("Labels {}", fill.fill),
        &face,
        &args.out,
    )?;
    if context.json {
        return Ok(());
    }
    let figures = done.figure_height.unwrap_or_default();
    out::folded(
        "",
        &format!(
            "{} of the label; small x {:.1} mm, figures of the quantity {figures:.1} mm high, for a jar \
             face of {:.0} cm2.",
            copies(count),
            done.x_height,
            args.face
        ),
    );
    for rule in &draft.missing {
        out::folded("Missing, not for sale: ", field(rule.field));
    }
    let there = rules(region)
        .into_iter()
        .filter(|rule| rule.duty == Duty::Mandatory && !rule.note.is_empty())
        .filter(|rule| draft.lines.iter().any(|line| line.field == rule.field));
    for rule in there {
        out::folded(
            "See to it: ",
            &format!("{}: {}", field(rule.field), rule.note),
        );
    }
    for rule in &draft.look_at {
        out::folded(
            "May be needed: ",
            &format!("{}: {}", field(rule.field), rule.note),
        );
    }
    if done.figure_height.is_some() && draft.lines.iter().all(|l| l.least_height.is_none()) {
        out::folded(
            "Letter heights: ",
            &format!("no rule is known here for {region}; ask your authority."),
        );
    }
    out::folded(&format!("{region}: "), CHECK_WITH_AUTHORITY);
    out::line("Print at full size (100 %).");
    Ok(())
}

fn copies(count: usize) -> String {
    if count == 1 {
        "One copy".to_owned()
    } else {
        format!("{count} copies")
    }
}

fn name(origin: &LotOrigin) -> String {
    match origin {
        LotOrigin::Made { method } => names(*method)[0].to_owned(),
        _ => "Honey".to_owned(),
    }
}

fn missing(draft: &LabelDraft, anyway: bool) -> Result<(), Failure> {
    if draft.missing.is_empty() || anyway {
        return Ok(());
    }
    let names: Vec<&str> = draft.missing.iter().map(|rule| field(rule.field)).collect();
    Err(Failure::input(format!(
        "{} asks for what is not told yet: {}",
        draft.missing[0].region,
        names.join(", ")
    ))
    .help(
        "Tell it once with `combwright honey seller` (--business, --country, --storage, --nutrition); \
         --anyway prints without, not for sale \
         (some sellers are exempt: ask your authority).",
    ))
}

const fn field(field: Field) -> &'static str {
    match field {
        Field::Name => "the name",
        Field::NetQuantity => "the net quantity",
        Field::Business => "name and address of the business",
        Field::Origin => "the country of origin",
        Field::Lot => "the lot mark",
        Field::BestBefore => "the best-before date",
        Field::Storage => "how to keep it",
        Field::Nutrition => "the nutrition panel",
        Field::Ingredients => "the ingredients",
        Field::InfantCaution => "the caution for infants",
    }
}

fn lines(draft: &LabelDraft) -> Vec<LabelLine> {
    draft
        .lines
        .iter()
        .map(|line| LabelLine {
            role: match line.field {
                Field::Name => Role::Name,
                Field::NetQuantity => Role::Net,
                _ => Role::Particular,
            },
            text: match line.field {
                Field::Origin => format!("Produce of {}", line.text),
                _ => line.text.clone(),
            },
            least: line.least_height,
        })
        .collect()
}

/// The address of a lot's page: the seller's page with the mark.
fn code(house: &House, mark: &str) -> Option<String> {
    let page = house.seller().trace_page.as_deref()?;
    Some(::house::page::address(page, mark))
}
