//! From sound to understanding: visits spoken by a general synthesiser, heard by a general recogniser that
//! knows nothing of hives, and understood by its first reading and by the likeliest of several.
//!
//! `spoken VISITS OUT [VOICE]`: every line of each `NN-name.txt` of VISITS is spoken by Flite (`slt`, `rms`, `awb`
//! ...; `rms` if not said) and heard by PocketSphinx with its own English model; what was understood is written to
//! OUT/first and OUT/likeliest as `NN-name.json`, in the fields of the spoken test visits. Needs Debian's
//! packages `flite`, `pocketsphinx` and `pocketsphinx-en-us`. What was heard stays in OUT/heard, and is not
//! spoken again.
#![allow(clippy::print_stdout, reason = "an example prints")]

use std::collections::BTreeSet;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, fs};

use talk::{Listener, Summary};

/// Readings of a phrase, as many as the app asks for.
const READINGS: usize = 6;
/// Where Debian keeps the recogniser's model.
const MODEL: &str = "/usr/share/pocketsphinx/model/en-us";

fn main() -> Result<(), Box<dyn Error>> {
    let args: Vec<String> = env::args().skip(1).collect();
    let (visits, out, voice) = match args.as_slice() {
        [visits, out] => (visits, out, "rms"),
        [visits, out, voice] => (visits, out, voice.as_str()),
        _ => return Err("usage: spoken VISITS OUT [VOICE]".into()),
    };
    let (visits, out) = (Path::new(visits), Path::new(out));
    let mut texts: Vec<PathBuf> = fs::read_dir(visits)?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|end| end == "txt"))
        .collect();
    texts.sort();
    let (mut phrases, mut other) = (0, 0);
    for text in texts {
        let name = text
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let heard = out.join("heard").join(&name);
        if !heard.join("ctl").is_file() {
            hear(&fs::read_to_string(&text)?, &heard, voice)?;
        }
        let (mut first, mut likeliest) = (Listener::new(), Listener::new());
        for phrase in fs::read_to_string(heard.join("ctl"))?.lines() {
            let readings = readings(&heard.join(phrase).with_extension("hyp"))?;
            let Some(words) = readings.first() else {
                continue;
            };
            first.hear(words);
            let at = likeliest.likeliest(&readings).unwrap_or(0);
            likeliest.hear(&readings[at]);
            phrases += 1;
            other += usize::from(at > 0);
        }
        for (folder, listener) in [("first", first), ("likeliest", likeliest)] {
            let folder = out.join(folder);
            fs::create_dir_all(&folder)?;
            let summary = serde_json::to_string_pretty(&Summary::from(&listener.finish()))?;
            fs::write(folder.join(&name).with_extension("json"), summary)?;
        }
        println!("{name}");
    }
    println!("{phrases} phrases; of {other} another reading than the first was heard");
    Ok(())
}

/// Speaks each line and hears it; the list of phrases is written last.
fn hear(text: &str, folder: &Path, voice: &str) -> Result<(), Box<dyn Error>> {
    fs::create_dir_all(folder)?;
    let mut list = String::new();
    for (nth, line) in text.lines().map(str::trim).enumerate() {
        if line.is_empty() {
            continue;
        }
        let phrase = format!("{nth:03}");
        let sound = folder.join(&phrase).with_extension("wav");
        let mut speak = Command::new("flite");
        done(speak.args(["-voice", voice, "-t", line, "-o"]).arg(sound))?;
        list.push_str(&phrase);
        list.push('\n');
    }
    let phrases = folder.join("phrases");
    fs::write(&phrases, &list)?;
    let mut recognise = Command::new("pocketsphinx_batch");
    recognise
        .args(["-hmm", &format!("{MODEL}/en-us")])
        .args(["-lm", &format!("{MODEL}/en-us.lm.bin")])
        .args(["-dict", &format!("{MODEL}/cmudict-en-us.dict")])
        // a wave file's head is 44 bytes long
        .args(["-adcin", "yes", "-adchdr", "44", "-cepext", ".wav"])
        // the same reading comes several times, with other sounds of a word
        .args(["-nbest", &(READINGS * 10).to_string(), "-nbestdir"])
        .arg(folder)
        .arg("-cepdir")
        .arg(folder)
        .arg("-ctl")
        .arg(&phrases);
    done(&mut recognise)?;
    fs::rename(&phrases, folder.join("ctl"))?;
    Ok(())
}

fn done(command: &mut Command) -> Result<(), Box<dyn Error>> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .map_err(|why| format!("{name}: {why}"))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("{name}: {status}").into())
    }
}

/// The readings of one phrase, each once: a line is words and a score.
fn readings(file: &Path) -> Result<Vec<String>, Box<dyn Error>> {
    let mut known = BTreeSet::new();
    let text = fs::read_to_string(file)?;
    let words = text.lines().filter_map(|line| {
        let words = line.rsplit_once(' ')?.0.split(' ');
        // "<sil>", "++noise++", and which sound of a word it was: "the(2)"
        let words = words
            .filter(|word| !word.starts_with(['<', '[', '+']))
            .map(|word| word.split('(').next().unwrap_or_default());
        Some(words.collect::<Vec<_>>().join(" "))
    });
    Ok(words
        .filter(|words| !words.is_empty() && known.insert(words.clone()))
        .take(READINGS)
        .collect())
}
