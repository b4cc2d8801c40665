//! Writes the JSON Schema of the bike file to where it is shipped.

fn main() -> std::io::Result<()> {
    let schema = concat!(env!("CARGO_MANIFEST_DIR"), "/schema/bike.schema.json");
    std::fs::write(schema, wheelrate::file::json_schema())
}
