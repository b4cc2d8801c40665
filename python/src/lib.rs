//! Python bindings of `wheelrate`: one file per file of the core.
#![forbid(unsafe_code)]

mod axial;
mod bike;
mod compare;
mod damper;
mod damping;
mod decide;
mod errors;
mod file;
mod fork;
mod gas;
mod history;
mod infer;
mod linkage;
mod log;
mod mass;
mod plain;
mod record;
mod report;
mod road;
mod shock;
mod spring;
mod sweep;
mod travel_log;
mod uncertain;
mod units;
mod value;
mod wheel;

/// Bindings of the Rust crate `wheelrate`; import them from the package.
#[pyo3::pymodule]
mod _core {
    #[pymodule_export]
    #[allow(non_upper_case_globals)]
    const __version__: &str = env!("CARGO_PKG_VERSION");

    #[pymodule_export]
    use super::axial::{AxialCurve, AxialState};
    #[pymodule_export]
    use super::bike::braking::{AntiDive, AntiDiveCurve};
    #[pymodule_export]
    use super::bike::correction::{Correction, GeometryDoubt, Move};
    #[pymodule_export]
    use super::bike::descent::DescentState;
    #[pymodule_export]
    use super::bike::effect::Effect;
    #[pymodule_export]
    use super::bike::landing::{Bottoming, EndMotion, EnergyAccount, MovingEnd};
    #[pymodule_export]
    use super::bike::moving::{BikeEnergy, BikeMotion, BikeMotionEnd, Legs};
    #[pymodule_export]
    use super::bike::practice::SagPractice;
    #[pymodule_export]
    use super::bike::ride::{
        HalfBike, HalfBikeEnd, Mode, QuarterBike, QuarterMode, Reserve, critical_damping, damping_at_shaft,
        damping_at_wheel, damping_factor, damping_ratio, natural_frequency, ride_rate, static_deflection,
    };
    #[pymodule_export]
    use super::bike::settling::{Chain, SettledBike, Stance, Stances, longitudinal_transfer};
    #[pymodule_export]
    use super::bike::steering::Steering;
    #[pymodule_export]
    use super::bike::whole::WholeBike;
    #[pymodule_export]
    use super::bike::{Bike, demo, demo_file};
    #[pymodule_export]
    use super::compare::{Comparison, compare};
    #[pymodule_export]
    use super::damper::{Damper, equivalent_of_friction, equivalent_of_quadratic};
    #[pymodule_export]
    use super::damping::{DampedMode, DampingCurve};
    #[pymodule_export]
    use super::decide::advice::{Action, Decision, SpringChoice};
    #[pymodule_export]
    use super::decide::assumptions::Assumption;
    #[pymodule_export]
    use super::decide::oil::OilLevel;
    #[pymodule_export]
    use super::decide::plan::{NextReading, Plan};
    #[pymodule_export]
    use super::decide::riders::{CommonSetting, EndRiders, OwnSettings, SpringForRiders};
    #[pymodule_export]
    use super::decide::scenarios::{EndScenarios, PreloadChange, ScenarioLoad, SpringAcross};
    #[pymodule_export]
    use super::file::{append_readings, check, json_schema, log_change, read_partly, set_keys, start_file};
    #[pymodule_export]
    use super::fork::{BushLoads, Bushes, Fork, ForkLeg, LevelOffset};
    #[pymodule_export]
    use super::gas::{AirSpring, Chamber, Conditions, Exponents, ForkAir, Reservoir};
    #[pymodule_export]
    use super::history::{Drift, EndHistory, PredictedSag, Prediction, SetResult, Shift, TargetOutcome};
    #[pymodule_export]
    use super::infer::monte_carlo::{MonteCarlo, Sampled};
    #[pymodule_export]
    use super::infer::rehearsal::{Rehearsal, Rehearsed};
    #[pymodule_export]
    use super::infer::study::Study;
    #[pymodule_export]
    use super::infer::{Fit, FittedLoad};
    #[pymodule_export]
    use super::linkage::{
        AntiRise, ChainDrive, Design, Idler, Linkage, LinkageCurve, LinkageEffects, LinkageFamily, LinkagePoint,
        MassShares, MeasuredLinkage, Mechanism, Photograph, Squat, Survey, UncertainCurve, UncertainPoint,
        arrangements, pitch_radius,
    };
    #[pymodule_export]
    use super::mass::{Ballast, Masses, cg_height};
    #[pymodule_export]
    use super::record::change::Change;
    #[pymodule_export]
    use super::record::measuring::{Measuring, SpringPrior};
    #[pymodule_export]
    use super::record::on_sale::{OnSale, Prices};
    #[pymodule_export]
    use super::record::practice::{CommonPractice, Practice};
    #[pymodule_export]
    use super::record::riders::Riders;
    #[pymodule_export]
    use super::record::scenario::Scenario;
    #[pymodule_export]
    use super::record::targets::{SagTarget, Targets};
    #[pymodule_export]
    use super::record::usual::OwnUsual;
    #[pymodule_export]
    use super::record::{Reading, Wheels};
    #[pymodule_export]
    use super::report::questions::{Question, questions};
    #[pymodule_export]
    use super::report::sheet::Sheet;
    #[pymodule_export]
    use super::report::taking::how_to_read;
    #[pymodule_export]
    use super::report::unit_symbols;
    #[pymodule_export]
    use super::road::{QuarterResponse, QuarterRide, Road, RoadEnd, RoadRide, transmissibility, vertical_weighting};
    #[pymodule_export]
    use super::shock::Shock;
    #[pymodule_export]
    use super::spring::lasting::{SpringLife, spring_wires};
    #[pymodule_export]
    use super::spring::measured::SpringPoint;
    #[pymodule_export]
    use super::spring::{
        Changeover, CoilGeometry, MainSpring, Material, Preloaded, SpacerLengths, Spring, Stop, UnmarkedSpring,
    };
    #[pymodule_export]
    use super::sweep::designs::{Sweep, sweep_outputs};
    #[pymodule_export]
    use super::sweep::{sweep_curves, sweep_points};
    #[pymodule_export]
    use super::travel_log::{DynamicSag, EndTravel, TravelLog, travel_log};
    #[pymodule_export]
    use super::uncertain::Uncertain;
    #[pymodule_export]
    use super::units::{heard, quantity, unit_tables};
    #[pymodule_export]
    use super::wheel::chain::ChainRun;
    #[pymodule_export]
    use super::wheel::final_drive::Sprockets;
    #[pymodule_export]
    use super::wheel::pivots::UncertainWheelCurve;
    #[pymodule_export]
    use super::wheel::tyre::{TyreRate, tyre_rate, tyre_rate_of_footprint};
    #[pymodule_export]
    use super::wheel::{EndEffects, FrontEnd, RearEnd, Settling, SteeringAxis, WheelCurve, WheelEffects, WheelState};
}
