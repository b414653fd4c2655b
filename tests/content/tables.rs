//! Tables of DEVELOPERS.md that are made here: each stands between two markers.

use std::{env, fs, path::Path};

/// Holds the table against the page; with `WRITE_TABLES` set it is written there instead.
pub fn stands(name: &str, table: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let page = fs::read_to_string(&path).expect("the page is there");
    let (begin, end) = (format!("<!-- table: {name} -->\n"), "\n<!-- end -->".to_owned());
    let (before, rest) = page.split_once(&begin).unwrap_or_else(|| panic!("no table `{name}`"));
    let (old, after) = rest.split_once(&end).expect("the table ends");
    if env::var_os("WRITE_TABLES").is_some() {
        fs::write(&path, format!("{before}{begin}{table}{end}{after}")).expect("the page is ours");
        return;
    }
    assert!(
        old == table,
        "the table `{name}` of DEVELOPERS.md is not fresh: WRITE_TABLES=1 cargo test --test content"
    );
}
