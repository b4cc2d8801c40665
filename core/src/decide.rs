//! What to do about an end: every spring on sale weighed, a verdict, what to measure next, and the same under other loads.
//!
//! | question | where | what comes out |
//! |---|---|---|
//! | which spring, and how set | [`Decision`] | every rate at its best setting, every [`Action`] weighed, a [`Verdict`] |
//! | which other spring may be the best one | [`Decision::contenders`] | the fewest of which one is, with 97 % |
//! | what was assumed for you | [`Assumption`] | each with its share in the uncertainty, and the act that removes it |
//! | what to do with an evening | [`Plan`] | what to measure next, in order, and what it is worth |
//! | the same under other loads | [`EndScenarios`] | what to set for each, the turns between them, which spring does for all |
//!
//! ```
//! use wheelrate::{Bike, decide::Verdict, demo::PATROL, record::End, units::UnitSystem};
//! let bike = Bike::from_toml(PATROL)?;
//! let advice = bike.advise_end(End::Rear)?;
//! assert!(matches!(advice.verdict, Verdict::ChangeSpring { stiffer: true, .. }));
//! println!("{}", advice.headline(UnitSystem::Metric));
//! # Ok::<(), wheelrate::Error>(())
//! ```

pub(crate) mod adviser;
pub(crate) mod assumptions;
pub(crate) mod chances;
pub(crate) mod choice;
pub(crate) mod contenders;
pub(crate) mod decision;
pub(crate) mod doubts;
pub(crate) mod foresight;
pub(crate) mod gradient;
pub(crate) mod lacks;
pub(crate) mod limit;
pub(crate) mod narrowing;
pub(crate) mod next_reading;
pub(crate) mod oil;
pub(crate) mod other_end;
pub(crate) mod plan;
pub(crate) mod predict;
pub(crate) mod rests;
pub(crate) mod riders;
pub(crate) mod scenarios;
pub(crate) mod search;
pub(crate) mod service;
pub(crate) mod set;
pub(crate) mod tasks;
pub(crate) mod verdict;

pub use assumptions::{Amount, Assumption, AssumptionKind};
pub use chances::Way;
pub use choice::{Outcome, SpringChoice, Turns};
pub use decision::{Advice, Decision, Today};
pub use doubts::{Doubt, DoubtKind};
pub use foresight::Foresight;
pub use lacks::Lack;
pub use limit::{Limit, LimitKind};
pub use next_reading::{NextReading, Task};
pub use oil::OilLevel;
pub use other_end::OtherEnd;
pub use plan::{Plan, Worth};
pub use rests::Rests;
pub use riders::{CommonSetting, EndRiders, OwnSettings, SpringForRiders};
pub use scenarios::{EndScenarios, PreloadChange, ScenarioLoad, Scenarios, SpringAcross};
pub use service::Service;
pub use verdict::{Act, Action, Verdict, WantedRate};
