//! Splitting quoted CSV.

/// Fields of a CSV line with double quotes around some.
pub(crate) fn fields(line: &str) -> Vec<String> {
    let (mut fields, mut quoted) = (vec![String::new()], false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            other => fields.last_mut().expect("there is a field").push(other),
        }
    }
    fields
}
