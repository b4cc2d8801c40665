//! Prints the setup sheet of a bike file: `cargo run --example sheet -- my_bike.toml`; without a file, of the shipped bike.

use wheelrate::bike::Bike;
use wheelrate::units::UnitSystem;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let text = match std::env::args().nth(1) {
        Some(path) => std::fs::read_to_string(path)?,
        None => wheelrate::demo::PATROL.to_owned(),
    };
    let bike = Bike::from_toml(&text)?;
    let sheet = bike.sheet(UnitSystem::Metric)?.to_text(100);
    std::io::Write::write_all(&mut std::io::stdout(), sheet.as_bytes())?;
    Ok(())
}
