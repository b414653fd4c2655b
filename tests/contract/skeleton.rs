//! The binary starts.

#[test]
fn the_binary_starts() {
    let mut command = assert_cmd::Command::cargo_bin("rungwise").expect("the binary is built");
    command.assert().success();
}
