//! The options that commands share: the load, the target, the air, the spread, and the output.

use crate::load::{Construction, Firearm};
use crate::plate::{Condition, Duty, Mount, Steel};
use crate::quantity::{
    Angle, BallisticCoefficient, Length, Mass, Measure, Pressure, Range, Ratio, Temperature, Velocity,
    VelocityPerTemperature, parse,
};
use crate::report::{Format, Units};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// Reads a quantity for clap; the message ends in what to write instead.
pub(super) fn quantity<Q: Measure>(text: &str) -> Result<Q, String> {
    parse(text).map_err(|error| format!("{error}; {}", error.help()))
}

/// Reads a quantity or a range of it for clap.
pub(super) fn range<Q: Measure>(text: &str) -> Result<Range<Q>, String> {
    Range::parse(text).map_err(|error| format!("{error}; {}", error.help()))
}

/// A drag model by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Model {
    /// The G1 standard projectile.
    #[value(name = "G1", alias = "g1")]
    G1,
    /// The G7 standard projectile.
    #[value(name = "G7", alias = "g7")]
    G7,
}

/// A load described by its numbers.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "A load by its numbers")]
pub struct DescribedArgs {
    /// Bullet mass, `168gr`
    #[arg(long, value_name = "MASS", value_parser = quantity::<Mass>, allow_hyphen_values = true)]
    pub bullet: Option<Mass>,
    /// Mean muzzle velocity, `2650fps`
    #[arg(long, value_name = "SPEED", value_parser = quantity::<Velocity>, allow_hyphen_values = true)]
    pub velocity: Option<Velocity>,
    /// Ballistic coefficient in lb/in², `0.223`
    #[arg(long, value_name = "BC", value_parser = quantity::<BallisticCoefficient>, allow_hyphen_values = true)]
    pub bc: Option<BallisticCoefficient>,
    /// The standard projectile the coefficient refers to
    #[arg(long, value_name = "MODEL")]
    pub drag: Option<Model>,
    /// The bullet's own drag: a CSV file of Mach and Cd, in place of --bc and --drag
    #[arg(long, value_name = "FILE", conflicts_with_all = ["bc", "drag"])]
    pub drag_table: Option<PathBuf>,
    /// Bullet diameter, `0.308in`
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub diameter: Option<Length>,
    /// What the bullet is made of
    #[arg(long, value_name = "KIND")]
    pub construction: Option<Construction>,
    /// What fires it; rifle where not said
    #[arg(long, value_name = "KIND")]
    pub firearm: Option<Firearm>,
    /// Projectiles in a shot, for pellets
    #[arg(long, value_name = "N")]
    pub projectiles: Option<u32>,
}

/// What is known of the spread of the shots, and how sure to be.
#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "Spread")]
pub struct SpreadArgs {
    /// Standard deviation of the muzzle velocity, `12fps`
    #[arg(long, value_name = "SPEED", value_parser = quantity::<Velocity>, allow_hyphen_values = true)]
    pub velocity_sd: Option<Velocity>,
    /// Standard deviation of the ballistic coefficient, `1%`
    #[arg(long, value_name = "SHARE", value_parser = quantity::<Ratio>, allow_hyphen_values = true)]
    pub bc_sd: Option<Ratio>,
    /// Share of shots that the fast and slow bounds cover, one-sided; 99 % where not said
    #[arg(long, value_name = "SHARE", value_parser = quantity::<Ratio>, allow_hyphen_values = true)]
    pub coverage: Option<Ratio>,
    /// Change of muzzle velocity with powder temperature, `1 ft/s per F`
    #[arg(long, value_name = "SLOPE", value_parser = quantity::<VelocityPerTemperature>, allow_hyphen_values = true)]
    pub velocity_temperature_slope: Option<VelocityPerTemperature>,
    /// Powder temperature the muzzle velocity was measured at, `70F`
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<Temperature>, allow_hyphen_values = true)]
    pub measured_at: Option<Temperature>,
    /// Barrel length to move a catalogue velocity to, `16in`
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub barrel: Option<Length>,
}

/// Which loads: named, of a cartridge, from a file, or described.
#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "Loads")]
pub struct LoadArgs {
    /// A load by name, `308-168-match`, with its distance if it has one of its own, `308-168-match@100yd`
    #[arg(long = "load", value_name = "NAME[@DISTANCE]")]
    pub load: Vec<String>,
    /// Any ammunition of a cartridge: every load of it, the worst counts
    #[arg(long = "any", value_name = "CARTRIDGE[@DISTANCE]")]
    pub any: Vec<String>,
    /// A file of loads of your own, added to those built in
    #[arg(long, value_name = "FILE")]
    pub load_file: Vec<PathBuf>,
    #[command(flatten)]
    pub described: DescribedArgs,
    #[command(flatten)]
    pub spread: SpreadArgs,
}

/// The plate as it stands on the range.
#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "Target")]
pub struct TargetArgs {
    /// Face: round `12in`, rectangle `12x20in`; a 12 in round where not said
    #[arg(long, value_name = "SIZE", conflicts_with = "outline")]
    pub face: Option<String>,
    /// Face from a file: an outline in TOML, or a DXF drawing
    #[arg(long, value_name = "FILE")]
    pub outline: Option<PathBuf>,
    /// How it is held; an open hook where not said
    #[arg(long, value_name = "KIND")]
    pub mount: Option<Mount>,
    /// Length of the chain above the plate, with `--mount chain`, `6in`
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub chain: Option<Length>,
    /// What it goes through; private where not said
    #[arg(long, value_name = "KIND")]
    pub duty: Option<Duty>,
    /// The state it is in; unknown where not said and the plate is in hand, sound for a plate to be bought
    #[arg(long, value_name = "STATE")]
    pub condition: Option<Condition>,
    /// What steel it is; AR500 where not said
    #[arg(long, value_name = "STEEL")]
    pub steel: Option<Steel>,
    /// Lean of the face toward the shooter, `20deg`
    #[arg(long, value_name = "ANGLE", value_parser = quantity::<Angle>, allow_hyphen_values = true)]
    pub tilt: Option<Angle>,
    /// Turn of the face sideways, `0deg`
    #[arg(long, value_name = "ANGLE", value_parser = quantity::<Angle>, allow_hyphen_values = true)]
    pub oblique: Option<Angle>,
    /// Slope to the target, uphill positive, `-15deg`
    #[arg(long, value_name = "ANGLE", value_parser = quantity::<Angle>, allow_hyphen_values = true)]
    pub slope: Option<Angle>,
}

/// A standard air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum StandardAir {
    /// ICAO standard atmosphere, ISO 2533
    #[value(name = "ICAO", alias = "icao")]
    Icao,
    /// Army Standard Metro
    #[value(name = "ASM", alias = "asm")]
    Asm,
}

/// The air, each value single or a range `-10F..95F`.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Air")]
pub struct AirArgs {
    /// Standard air; ICAO where not said
    #[arg(long, value_name = "AIR")]
    pub air: Option<StandardAir>,
    /// Height above sea level, `4200ft`
    #[arg(long, value_name = "HEIGHT", value_parser = range::<Length>, allow_hyphen_values = true)]
    pub altitude: Option<Range<Length>>,
    /// Temperature, `72F` or `-10F..95F`
    #[arg(long, value_name = "TEMPERATURE", value_parser = range::<Temperature>, allow_hyphen_values = true)]
    pub temperature: Option<Range<Temperature>>,
    /// Pressure at the station, not reduced to sea level, `26.1inHg`
    #[arg(long, value_name = "PRESSURE", value_parser = range::<Pressure>, allow_hyphen_values = true)]
    pub pressure: Option<Range<Pressure>>,
    /// Relative humidity, `40%`
    #[arg(long, value_name = "SHARE", value_parser = range::<Ratio>, allow_hyphen_values = true)]
    pub humidity: Option<Range<Ratio>>,
}

/// Rules of the range and plates of the shop.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Rules and plates")]
pub struct RuleArgs {
    /// A range's own rules; the stricter of theirs and the house's wins
    #[arg(long, value_name = "FILE")]
    pub range_rules: Vec<PathBuf>,
    /// A file of plates of your own, in place of those built in
    #[arg(long, value_name = "FILE")]
    pub plate_file: Option<PathBuf>,
}

/// What a case is asked with: the load, the target, the air, the rules, and the form of the answer.
#[derive(Debug, Clone, Args)]
pub struct CaseArgs {
    #[command(flatten)]
    pub loads: LoadArgs,
    #[command(flatten)]
    pub target: TargetArgs,
    #[command(flatten)]
    pub air: AirArgs,
    #[command(flatten)]
    pub rules: RuleArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// The plate as a thing that hangs and is paid for.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Hanging and paying")]
pub struct HangingArgs {
    /// Magnification the plate is seen through; 20 where not said
    #[arg(long, value_name = "TIMES")]
    pub magnification: Option<f64>,
    /// A swing wanted of a centre hit: tells where the hanger line should lie, `45deg`
    #[arg(long, value_name = "ANGLE", value_parser = quantity::<Angle>, allow_hyphen_values = true)]
    pub want_swing: Option<Angle>,
    /// The shop's own prices
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
}

/// How the answer is given.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Output")]
pub struct OutputArgs {
    /// Form of the answer
    #[arg(long, value_name = "FORM", value_enum, default_value_t = Format::Table)]
    pub format: Format,
    /// Units of the answer, but for JSON, which is SI
    #[arg(long, value_name = "UNITS", value_enum, default_value_t = Units::Us)]
    pub units: Units,
    /// Every finding: rule, numbers, margin, basis and source
    #[arg(long)]
    pub explain: bool,
    /// Write to a file; `-` is standard output
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// When to colour
    #[arg(long, value_name = "WHEN", value_enum, default_value_t = When::Auto)]
    pub color: When,
}

/// When to colour.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum When {
    /// On a terminal, unless `NO_COLOR` is set
    #[default]
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}
