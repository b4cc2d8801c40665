//! Writes the JSON Schema of the bike file and the page of its keys to where they are shipped.

fn main() -> std::io::Result<()> {
    let schema = concat!(env!("CARGO_MANIFEST_DIR"), "/schema/bike.schema.json");
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/keys.md");
    std::fs::write(schema, wheelrate::keys::json_schema())?;
    std::fs::write(page, wheelrate::keys::page())
}
