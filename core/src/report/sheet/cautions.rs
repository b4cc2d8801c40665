//! What to mind before touching anything.

/// Cautions that go with every sheet.
#[must_use]
pub fn cautions() -> Vec<String> {
    [
        "The maker's manual, local rules and a qualified mechanic come before anything on this sheet.",
        "Support the bike safely and release all spring preload before taking a fork or shock apart.",
        "Never open or heat a charged reservoir: the gas in it is under high pressure. Leave it to a shop.",
        "After any change check by hand, with the spring out, that tyre, fender, chain and brake lines stay clear at full \
         travel and full steering lock.",
        "A new spring must be able to compress by its preload and the full stroke without going solid.",
        "Tighten every fastener to the maker's torque, then check it again after the first ride.",
        "Read the sags again after the change: they should land where this sheet says, within twice the ± shown.",
        "Ride gently at first, on ground you know, and change one thing at a time.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// The cautions in one line, for a screen that has no room for them.
pub(super) const IN_SHORT: &str = "Manual first. Release all spring preload; never open a gas reservoir.";
