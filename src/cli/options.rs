//! The one table of options: what each is called, which commands have a use for it, and what it becomes.
//!
//! Parsing, help, completion, man pages and the refusal of what a command has no use for all follow from it; a test
//! holds it against the keys of the questions.

use crate::load::{Class, Construction, Firearm};
use crate::plate::{Condition, Duty, Kind, Mount, Steel};
use crate::report::Format;
use crate::source::accepted as words;
use crate::words::Units;

/// A command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Verb {
    Advise,
    Standoff,
    Vet,
    Strike,
    Course,
    Chrono,
    Catalog,
    Completions,
    Man,
    Schema,
}

impl Verb {
    /// Every command, in the order of the help.
    pub const ALL: &'static [Self] = &[
        Self::Advise,
        Self::Standoff,
        Self::Vet,
        Self::Strike,
        Self::Course,
        Self::Chrono,
        Self::Catalog,
        Self::Completions,
        Self::Man,
        Self::Schema,
    ];

    /// As it is typed.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Advise => "advise",
            Self::Standoff => "standoff",
            Self::Vet => "vet",
            Self::Strike => "strike",
            Self::Course => "course",
            Self::Chrono => "chrono",
            Self::Catalog => "catalog",
            Self::Completions => "completions",
            Self::Man => "man",
            Self::Schema => "schema",
        }
    }

    /// What it is for.
    pub const fn about(self) -> &'static str {
        match self {
            Self::Advise => "Which plate, with the choices side by side",
            Self::Standoff => "How close: one load on one plate, or the chart of loads and thicknesses",
            Self::Vet => "Does this load suit this target; the exit status tells",
            Self::Strike => "What arrives at each distance: mean, fast and slow shot",
            Self::Course => "A match file: every target against every admitted load",
            Self::Chrono => "A chronograph string to mean, standard deviation and tolerance bound",
            Self::Catalog => "Loads, cartridges, plates, rules and sources, built in or given; the keys of files",
            Self::Completions => "What a shell needs to complete the options",
            Self::Man => "The manual page, of the program or of a command",
            Self::Schema => "The JSON Schema of a command's answer or question",
        }
    }

    const fn bit(self) -> u16 {
        1 << self as u16
    }
}

/// What the value of an option becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Becomes {
    /// A text under a key of the question.
    Text(&'static str),
    /// A number under a key.
    Number(&'static str),
    /// A whole number under a key.
    Whole(&'static str),
    /// A key of the load that is described.
    Described(&'static str),
    /// A whole number of the load that is described.
    DescribedWhole(&'static str),
    /// Nothing of the question: the form of the answer, or what is done with it.
    Form,
}

/// The heading that an option stands under in the help.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Heading {
    Asked,
    Loads,
    Described,
    Spread,
    Target,
    Air,
    Rules,
    Hanging,
    Match,
    Output,
}

impl Heading {
    pub const fn text(self) -> &'static str {
        match self {
            Self::Asked => "What is asked",
            Self::Loads => "Loads",
            Self::Described => "A load by its numbers",
            Self::Spread => "Spread",
            Self::Target => "Target",
            Self::Air => "Air",
            Self::Rules => "Rules and plates",
            Self::Hanging => "Hanging and paying",
            Self::Match => "A match of many shots",
            Self::Output => "Output",
        }
    }
}

/// The words that an option takes, where they can be listed.
pub(super) type Choices = fn() -> &'static [&'static str];

/// An option.
#[derive(Debug, Clone, Copy)]
pub(super) struct Opt {
    /// Without its dashes.
    pub name: &'static str,
    /// Name of its value; empty where it takes none.
    pub value: &'static str,
    pub becomes: Becomes,
    /// The words it takes, where they can be listed.
    pub choices: Option<Choices>,
    pub heading: Heading,
    /// Whether it has a use beside an inquiry's file.
    pub beside_file: bool,
    pub help: &'static str,
    on: u16,
    many: u16,
}

impl Opt {
    /// Whether a command has a use for it.
    pub fn is_on(&self, verb: Verb) -> bool {
        self.on & verb.bit() != 0
    }

    /// Whether it may be given more than once.
    pub fn is_many(&self, verb: Verb) -> bool {
        self.many & verb.bit() != 0
    }

    /// The key of the question that it sets.
    pub fn key(&self) -> Option<&'static str> {
        match self.becomes {
            Becomes::Text(key) | Becomes::Number(key) | Becomes::Whole(key) => Some(key),
            Becomes::Described(_) | Becomes::DescribedWhole(_) => Some("load"),
            Becomes::Form => None,
        }
    }

    pub fn is_flag(&self) -> bool {
        self.value.is_empty()
    }
}

fn when() -> &'static [&'static str] {
    &["auto", "always", "never"]
}

const A: u16 = Verb::Advise.bit();
const S: u16 = Verb::Standoff.bit();
const V: u16 = Verb::Vet.bit();
const T: u16 = Verb::Strike.bit();
const K: u16 = Verb::Course.bit();
const C: u16 = Verb::Chrono.bit();
const L: u16 = Verb::Catalog.bit();
/// Commands that judge loads on a target.
const JUDGE: u16 = A | S | V | C;
/// Commands that fly loads.
const FLY: u16 = JUDGE | T;
/// Every command with an answer.
const ALL: u16 = FLY | K | L;

/// One row of the table; the short forms keep it legible.
const fn row(
    on: u16,
    heading: Heading,
    name: &'static str,
    value: &'static str,
    becomes: Becomes,
    help: &'static str,
) -> Opt {
    Opt { name, value, becomes, choices: None, heading, beside_file: false, help, on, many: 0 }
}

impl Opt {
    const fn many(self) -> Self {
        self.many_on(u16::MAX)
    }

    const fn many_on(mut self, verbs: u16) -> Self {
        self.many = verbs;
        self
    }

    const fn of(mut self, choices: Choices) -> Self {
        self.choices = Some(choices);
        self
    }

    const fn beside_file(mut self) -> Self {
        self.beside_file = true;
        self
    }
}

use Becomes::{Described, DescribedWhole, Form, Number, Text, Whole};

/// Every option.
#[rustfmt::skip]
pub(super) static OPTIONS: &[Opt] = &[
    row(A | V | T | S, Heading::Asked, "at", "DISTANCE", Text("at"),
        "Distance to the plate, `100yd`; for every load without one of its own").many_on(A | T),
    row(JUDGE, Heading::Asked, "plate", "THICKNESS", Text("plate"),
        "Plate, `3/8in`; where none is given every one there is: `vet` judges one").many_on(A | S | C),
    row(A | S | V, Heading::Asked, "product", "NAME", Text("product"),
        "A product of the shop's file: its face, mount and thicknesses").beside_file(),
    row(A, Heading::Asked, "quantity", "N", Whole("quantity"), "Pieces wanted, `4`").beside_file(),
    row(A, Heading::Asked, "ask", "", Form, "Ask one question at a time, at a terminal"),
    row(T, Heading::Asked, "from", "DISTANCE", Text("from"), "First distance, `0yd`; 0 where not given"),
    row(T, Heading::Asked, "to", "DISTANCE", Text("to"), "Last distance, `500yd`; 500 yd where not given, 500 m in metric units"),
    row(T, Heading::Asked, "step", "DISTANCE", Text("step"), "Distance between rows, `100yd`; 100 yd where not given, 100 m in metric units"),
    row(V, Heading::Asked, "kind", "KIND", Text("kind"),
        "What kind of target it is: tells whether the slow shot topples it").of(words::<Kind>),
    row(V, Heading::Asked, "base", "LENGTH", Text("base"), "Depth of the base of a falling plate, `2in`"),
    row(C, Heading::Asked, "column", "NAME", Text("column"), "Column of a CSV file that holds the readings"),
    row(C, Heading::Asked, "unit", "UNIT", Text("unit"), "Unit of readings without one: `fps` or `m/s`"),
    row(C, Heading::Asked, "confidence", "SHARE", Text("confidence"),
        "Confidence of the bound, `95%`; 95 % where not given"),
    row(C, Heading::Asked, "id", "NAME", Text("id"), "Name of the load that the string makes; `chronographed`"),
    row(C, Heading::Asked, "save", "FILE", Form,
        "Write the load with this string's mean and bound to a file that --load-file reads"),

    row(FLY, Heading::Loads, "load", "NAME[@DISTANCE]", Text("load"),
        "A load by name, `308-168-match`, with its distance if it has one of its own, `308-168-match@100yd`").many(),
    row(FLY, Heading::Loads, "any", "CARTRIDGE[@DISTANCE]", Text("any"),
        "Any ammunition of a cartridge, `.308 Win`: the worst counts").many(),
    row(FLY | L, Heading::Loads, "of", "KIND", Text("of"), "Only ammunition of this construction")
        .of(words::<Construction>),
    row(FLY | K | L, Heading::Loads, "load-file", "FILE", Text("loads"),
        "A file of loads of your own, added to those built in").many().beside_file(),

    row(FLY, Heading::Described, "bullet", "MASS", Described("bullet"), "Bullet mass, `168gr`"),
    row(FLY, Heading::Described, "velocity", "SPEED", Described("velocity"), "Mean muzzle velocity, `2650fps`"),
    row(FLY, Heading::Described, "bc", "BC", Described("bc"), "Ballistic coefficient in lb/in², `0.223`"),
    row(FLY, Heading::Described, "drag", "MODEL", Described("drag"),
        "The standard projectile the coefficient refers to").of(words::<crate::advisor::question::Model>),
    row(FLY, Heading::Described, "drag-table", "FILE", Described("drag_table"),
        "The bullet's own drag: a CSV file of Mach and Cd, in place of --bc and --drag"),
    row(FLY, Heading::Described, "diameter", "LENGTH", Described("diameter"), "Bullet diameter, `0.308in`"),
    row(FLY, Heading::Described, "construction", "KIND", Described("construction"), "What the bullet is made of")
        .of(words::<Construction>),
    row(FLY, Heading::Described, "firearm", "KIND", Described("firearm"), "What fires it; rifle where not given")
        .of(words::<Firearm>),
    row(FLY, Heading::Described, "name", "TEXT", Described("name"), "What to call it, `subsonic 220 gr`"),
    row(FLY, Heading::Described, "projectiles", "N", DescribedWhole("projectiles"),
        "Projectiles in a shot, for pellets, `9`"),

    row(FLY, Heading::Spread, "velocity-sd", "SPEED", Text("velocity_sd"),
        "Standard deviation of the muzzle velocity, `12fps`"),
    row(FLY, Heading::Spread, "bc-sd", "SHARE", Text("bc_sd"),
        "Standard deviation of the ballistic coefficient, `1%`"),
    row(FLY, Heading::Spread, "coverage", "SHARE", Text("coverage"),
        "Share of shots that the fast and slow bounds cover, one-sided, `99%` or `0.99`; 99 % where not given"),
    row(FLY, Heading::Spread, "velocity-temperature-slope", "SLOPE", Text("velocity_temperature_slope"),
        "Change of muzzle velocity with powder temperature, `1 ft/s per F`"),
    row(FLY, Heading::Spread, "measured-at", "TEMPERATURE", Text("measured_at"),
        "Powder temperature the muzzle velocity was measured at, `70F`"),
    row(FLY, Heading::Spread, "barrel", "LENGTH", Text("barrel"),
        "Barrel length to move a listed velocity to, `16in`"),

    row(JUDGE, Heading::Target, "face", "SIZE", Text("face"),
        "Face: round `12in`, rectangle `12x20in`; a 12 in round where not given"),
    row(JUDGE, Heading::Target, "outline", "FILE", Text("outline"),
        "Face from a drawing: DXF, SVG, or an outline in TOML"),
    row(JUDGE, Heading::Target, "outline-unit", "UNIT", Text("outline_unit"),
        "Unit of a drawing that names none: `in` or `mm`").of(|| &["in", "mm"]),
    row(JUDGE, Heading::Target, "layer", "NAME", Text("layer"), "Layer of a drawing to read").many(),
    row(JUDGE, Heading::Target, "part", "N", Whole("part"), "Which part of a drawing that holds several, `1`"),
    row(JUDGE, Heading::Target, "mount", "KIND", Text("mount"),
        "How it is held; open hooks, or as its kind is, where not given")
        .of(words::<Mount>),
    row(JUDGE, Heading::Target, "chain", "LENGTH", Text("chain"),
        "Length of the chain above the plate, with `--mount chain`, `6in`"),
    row(JUDGE, Heading::Target, "duty", "KIND", Text("duty"), "What it goes through; private where not given")
        .of(words::<Duty>),
    row(JUDGE, Heading::Target, "condition", "STATE", Text("condition"),
        "The state it is in; unknown where not given and the plate is in hand, sound for a plate to be bought")
        .of(words::<Condition>),
    row(JUDGE, Heading::Target, "steel", "STEEL", Text("steel"), "What steel it is; AR500 where not given")
        .of(words::<Steel>),
    row(JUDGE, Heading::Target, "tilt", "ANGLE", Text("tilt"), "Lean of the face toward the shooter, `20deg`"),
    row(JUDGE, Heading::Target, "oblique", "ANGLE", Text("oblique"), "Turn of the face sideways, `0deg`"),
    row(FLY, Heading::Target, "slope", "ANGLE", Text("slope"), "Slope to the target, uphill positive, `-15deg`"),

    row(FLY, Heading::Air, "air", "AIR", Text("air"), "Standard air; ICAO where not given")
        .of(words::<crate::advisor::question::StandardAir>),
    row(FLY, Heading::Air, "altitude", "HEIGHT", Text("altitude"), "Height above sea level, `4200ft`"),
    row(FLY, Heading::Air, "temperature", "TEMPERATURE", Text("temperature"), "Temperature, `72F` or `-10F..95F`"),
    row(FLY, Heading::Air, "pressure", "PRESSURE", Text("pressure"),
        "Pressure at the station, not reduced to sea level, in place of --altitude, `26.1inHg` or `884hPa`"),
    row(FLY, Heading::Air, "humidity", "SHARE", Text("humidity"), "Relative humidity, `40%`"),

    row(JUDGE | K | L, Heading::Rules, "range-rules", "FILE", Text("range_rules"),
        "A range's own rules, or `service-notice`: the distances of a service range; the stricter of theirs and the house's wins; `catalog keys rules` tells what to write").many().beside_file(),
    row(JUDGE | K | L, Heading::Rules, "plate-file", "FILE", Text("plates"),
        "A file of plates of your own, in place of those built in").beside_file(),

    row(A, Heading::Hanging, "magnification", "TIMES", Number("magnification"),
        "Magnification the plate is seen through, `20`; 20 where not given").beside_file(),
    row(A, Heading::Hanging, "want-swing", "ANGLE", Text("want_swing"),
        "A swing wanted of a centre hit: tells where the hanger line should lie, `45deg`").beside_file(),
    row(A | S | V | K, Heading::Hanging, "shop", "FILE", Text("shop"), "The shop's own prices and products: only thicknesses that it sells are proposed")
        .beside_file(),

    row(S, Heading::Match, "shooters", "N", Whole("shooters"),
        "Shooters of a match, `40`, with --rounds: nobody comes nearer than keeps the \
         chance that a shot of it passes the speed ceiling within --risk"),
    row(S, Heading::Match, "rounds", "N", Whole("rounds"), "Rounds of each shooter, `120`, with --shooters"),
    row(S, Heading::Match, "rifle-spread", "SPEED", Text("rifle_spread"),
        "Spread of mean velocity between rifles (SD), `40fps`; 40 ft/s where not given"),
    row(S, Heading::Match, "risk", "SHARE", Text("risk"), "The chance that is accepted, `1%`; 1 % where not given"),
    row(K, Heading::Match, "threads", "N", Whole("threads"), "Threads to judge with, `2`; every core where not given"),
    row(K, Heading::Match, "sheets", "DIR", Form,
        "Write a sign for each stage, an officer's sheet and a haul list into a folder"),

    row(L, Heading::Asked, "class", "CLASS", Text("class"), "Only loads, and rules that speak of them, of a class")
        .of(words::<Class>),

    row(A, Heading::Output, "for", "NAME", Form, "A customer's sheet for this customer, as a page to print")
        .beside_file(),
    row(A | S | K, Heading::Output, "dated", "DATE", Form, "The date that a sheet to hand out bears, as it is written here; a line to write it on where not given")
        .beside_file(),
    row(S, Heading::Output, "chart", "", Form, "The wall chart of every load asked, one landscape page to print"),
    row(S, Heading::Output, "tag", "", Form, "A stand tag of 4 by 6 in for one plate, to print"),
    row(A | S | V | T | C | K | L, Heading::Output, "fragment", "", Form,
        "HTML without its page frame, for a page of your own").beside_file(),
    row(ALL, Heading::Output, "format", "FORM", Form, "Form of the answer; where not given, as the ending of --output says, else a table")
        .of(words::<Format>).beside_file(),
    row(ALL, Heading::Output, "table", "NAME", Form, "Which table, of a CSV answer that has several").beside_file(),
    row(ALL, Heading::Output, "units", "UNITS", Text("units"), "Units of the answer, but for JSON, which is SI; us where not given")
        .of(words::<Units>).beside_file(),
    row(ALL, Heading::Output, "full", "", Form, "Everything there is to say").beside_file(),
    row(JUDGE | T | K, Heading::Output, "explain", "", Form,
        "Every finding: rule, numbers, margin, basis and source").beside_file(),
    row(ALL, Heading::Output, "output", "FILE", Form, "Write to a file; `-` is standard output").beside_file(),
    row(ALL, Heading::Output, "color", "WHEN", Form, "When to colour; auto where not given").of(when).beside_file(),
];

/// The option of a name.
pub(super) fn option(name: &str) -> Option<&'static Opt> {
    OPTIONS.iter().find(|opt| opt.name == name)
}

/// The option that sets a key of a command's question.
pub(super) fn option_of_key(verb: Verb, key: &str) -> Option<&'static Opt> {
    OPTIONS.iter().filter(|opt| opt.is_on(verb)).find(|opt| match opt.becomes {
        Becomes::Text(k)
        | Becomes::Number(k)
        | Becomes::Whole(k)
        | Becomes::Described(k)
        | Becomes::DescribedWhole(k) => k == key,
        Becomes::Form => false,
    })
}

/// What people type who mean something else, and what they mean.
static MEANT: &[(&str, &str)] = &[
    ("html", "--format html"),
    ("csv", "--format csv"),
    ("json", "--format json"),
    ("table-format", "--format table"),
    ("price", "--shop FILE"),
    ("prices", "--shop FILE"),
    ("cost", "--shop FILE"),
    ("size", "--face SIZE"),
    ("shape", "--face SIZE"),
    ("target", "--face SIZE"),
    ("drawing", "--outline FILE"),
    ("dxf", "--outline FILE"),
    ("svg", "--outline FILE"),
    ("qty", "--quantity N"),
    ("count", "--quantity N"),
    ("number", "--quantity N"),
    ("distance", "--at DISTANCE"),
    ("range", "--at DISTANCE"),
    ("dist", "--at DISTANCE"),
    ("thickness", "--plate THICKNESS"),
    ("cartridge", "--any CARTRIDGE"),
    ("caliber", "--any CARTRIDGE"),
    ("calibre", "--any CARTRIDGE"),
    ("ammo", "--load NAME"),
    ("weight", "--bullet MASS"),
    ("mass", "--bullet MASS"),
    ("grains", "--bullet MASS"),
    ("speed", "--velocity SPEED"),
    ("mv", "--velocity SPEED"),
    ("fps", "--velocity SPEED"),
    ("muzzle-velocity", "--velocity SPEED"),
    ("elevation", "--altitude HEIGHT"),
    ("height", "--altitude HEIGHT"),
    ("temp", "--temperature TEMPERATURE"),
    ("uphill", "--slope ANGLE"),
    ("downhill", "--slope -ANGLE"),
    ("incline", "--slope ANGLE"),
    ("lean", "--tilt ANGLE"),
    ("angle", "--tilt ANGLE"),
    ("turn", "--oblique ANGLE"),
    ("gun", "--firearm KIND"),
    ("weapon", "--firearm KIND"),
    ("sd", "--velocity-sd SPEED"),
    ("metric", "--units si"),
    ("si", "--units si"),
    ("imperial", "--units us"),
    ("verbose", "--full"),
    ("long", "--full"),
    ("all", "--full"),
    ("out", "--output FILE"),
    ("file", "--output FILE"),
    ("save-as", "--output FILE"),
    ("colour", "--color WHEN"),
    ("customer", "--for NAME"),
    ("date", "--dated DATE"),
    ("rules", "--range-rules FILE"),
    ("interactive", "--ask"),
    ("wizard", "--ask"),
    ("sign", "--tag"),
];

/// What was likely meant by an option that no command has.
pub(super) fn meant(typed: &str) -> Option<&'static str> {
    MEANT.iter().find(|(word, _)| *word == typed).map(|(_, option)| *option)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advisor::question::{
        AdviseQuestion, CatalogQuestion, ChronoQuestion, CourseQuestion, StandoffQuestion, StrikeQuestion, VetQuestion,
    };

    #[test]
    fn every_key_of_a_question_has_its_option_and_every_option_its_key() {
        // Keys that the command line sets by its arguments, by a file, or by the form of the answer.
        let by_argument = ["targets", "shots", "inquiry", "readings", "course", "what", "words", "figures"];
        for (verb, keys) in [
            (Verb::Advise, AdviseQuestion::KEYS),
            (Verb::Vet, VetQuestion::KEYS),
            (Verb::Standoff, StandoffQuestion::KEYS),
            (Verb::Strike, StrikeQuestion::KEYS),
            (Verb::Chrono, ChronoQuestion::KEYS),
            (Verb::Course, CourseQuestion::KEYS),
            (Verb::Catalog, CatalogQuestion::KEYS),
        ] {
            for key in keys.iter().filter(|key| !by_argument.contains(key)) {
                assert!(option_of_key(verb, key).is_some(), "{}: no option sets `{key}`", verb.name());
            }
            for opt in OPTIONS.iter().filter(|opt| opt.is_on(verb)) {
                assert!(opt.key().is_none_or(|key| keys.contains(&key)), "{}: --{}", verb.name(), opt.name);
            }
        }
    }

    #[test]
    fn names_are_unique_and_choices_are_found() {
        for (index, opt) in OPTIONS.iter().enumerate() {
            assert!(OPTIONS[..index].iter().all(|other| other.name != opt.name), "--{} stands twice", opt.name);
            assert!(opt.choices.is_none_or(|list| list().len() >= 2), "--{}", opt.name);
            assert!(meant(opt.name).is_none(), "--{} is an option", opt.name);
        }
    }
}
