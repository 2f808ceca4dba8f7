//! Prints what was understood of spoken notes: `summarise FILE`, or `summarise --folder IN OUT`.
#![allow(clippy::print_stdout, reason = "an example prints")]

use std::{env, fs, path::Path};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = env::args().skip(1).collect();
    match args.as_slice() {
        [flag, from, to] if flag == "--folder" => {
            fs::create_dir_all(to)?;
            for entry in fs::read_dir(from)? {
                let path = entry?.path();
                if path.extension().is_some_and(|e| e == "txt") {
                    let text = String::from_utf8_lossy(&fs::read(&path)?).into_owned();
                    let summary = talk::Summary::from(&talk::hear_text(&text).0);
                    let name = path
                        .file_stem()
                        .unwrap_or_default()
                        .to_string_lossy()
                        .into_owned();
                    fs::write(
                        Path::new(to).join(name + ".json"),
                        serde_json::to_string_pretty(&summary)?,
                    )?;
                }
            }
        }
        [flag, file] if flag == "--trace" => {
            let text = String::from_utf8_lossy(&fs::read(file)?).into_owned();
            let mut listener = talk::Listener::new();
            for line in text.lines() {
                println!("{line}");
                if env::var_os("MARKS").is_some() {
                    let concepts: Vec<_> = talk::concepts_of(line)
                        .into_iter()
                        .map(|(c, p)| {
                            format!(
                                "{c}({})",
                                p.split("<-")
                                    .last()
                                    .unwrap_or("")
                                    .split_whitespace()
                                    .collect::<Vec<_>>()
                                    .join(" ")
                            )
                        })
                        .collect();
                    println!("   .. {}", concepts.join(" "));
                }
                for noted in listener.hear(line).acts {
                    println!(
                        "      {:?} {:?}  <- {:?} [{}]",
                        noted.comb,
                        noted.act,
                        line.get(noted.words.clone()).unwrap_or(""),
                        noted.rule.0
                    );
                }
            }
        }
        [file] => {
            let text = String::from_utf8_lossy(&fs::read(file)?).into_owned();
            let summary = talk::Summary::from(&talk::hear_text(&text).0);
            println!("{}", serde_json::to_string_pretty(&summary)?);
        }
        _ => println!("usage: summarise FILE | --trace FILE | --folder IN OUT"),
    }
    Ok(())
}
