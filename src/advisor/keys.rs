//! The keys of every file that a person writes, with what each takes: as its reader accepts them, so that none is missing
//! and none is told that is not read.

use super::answer::ListedKey;
use super::inquiry;
use crate::load::{Class, Construction, Firearm};
use crate::plate::{Condition, Duty, Kind, Mount, Steel};
use crate::rules::{Basis, Concern, Subject, Verdict};
use crate::source::{Keys, accepted};
use crate::words::{Units, in_units};
use crate::{catalog, course, outline, plate, rules, shop};

/// A kind of file: what it is called here, the schema that it states, and its tables.
struct Kept {
    name: &'static str,
    schema: &'static str,
    tables: Vec<Keys>,
}

fn files() -> Vec<Kept> {
    let file = |name, schema, tables| Kept { name, schema, tables };
    vec![
        file("rules", rules::SCHEMA, rules::keys()),
        file("loads", catalog::SCHEMA, catalog::keys()),
        file("plates", plate::PLATES_SCHEMA, plate::keys()),
        file("shop", shop::SCHEMA, shop::keys()),
        file("inquiry", inquiry::SCHEMA, inquiry::keys()),
        file("match", course::SCHEMA, course::keys()),
        file("outline", outline::SCHEMA, outline::keys()),
    ]
}

/// The names of the files, for a word that asks for one of them.
pub(super) fn names() -> Vec<&'static str> {
    files().into_iter().map(|file| file.name).collect()
}

/// Every key of every file, its examples in the units asked for. Spellings that are read as well and are older are not told.
pub(super) fn all(units: Units) -> Vec<ListedKey> {
    let mut listed = Vec::new();
    for file in files() {
        for table in &file.tables {
            for key in table.keys {
                let Some(about) = about(file.name, table.table, key).filter(|about| !about.is_empty()) else {
                    continue;
                };
                listed.push(ListedKey {
                    file: file.name.into(),
                    table: table.table.into(),
                    key: (*key).into(),
                    takes: in_units(&filled(&about.replace("{schema}", file.schema)), units),
                });
            }
        }
    }
    listed
}

/// What a key takes: by its file and table, else by its table alone, which files share.
fn about(file: &str, table: &str, key: &str) -> Option<&'static str> {
    let of = |place: &str| {
        let (_, keys) = ABOUT.iter().find(|(known, _)| *known == place)?;
        keys.iter().find(|(known, _)| *known == key).map(|(_, about)| *about)
    };
    of(format!("{file} {table}").trim_end()).or_else(|| of(if table.is_empty() { "*" } else { table }))
}

/// The words that a key takes in place of their name in braces.
fn filled(about: &str) -> String {
    let lists: [(&str, &[&str]); 13] = [
        ("{subject}", accepted::<Subject>()),
        ("{sense}", rules::senses()),
        ("{concern}", accepted::<Concern>()),
        ("{verdict}", accepted::<Verdict>()),
        ("{basis}", accepted::<Basis>()),
        ("{class}", accepted::<Class>()),
        ("{construction}", accepted::<Construction>()),
        ("{firearm}", accepted::<Firearm>()),
        ("{mount}", accepted::<Mount>()),
        ("{duty}", accepted::<Duty>()),
        ("{condition}", accepted::<Condition>()),
        ("{steel}", accepted::<Steel>()),
        ("{kind}", accepted::<Kind>()),
    ];
    lists.into_iter().fold(about.to_owned(), |text, (name, words)| {
        // A word and its capitals are one.
        let mut once: Vec<&str> = Vec::new();
        for word in words {
            if !once.iter().any(|known| known.eq_ignore_ascii_case(word)) {
                once.push(word);
            }
        }
        text.replace(name, &once.join(", "))
    })
}

/// A place, and its keys with what they take.
type About = (&'static str, &'static [(&'static str, &'static str)]);

/// What every key takes, in the order of the files. The reader says which keys there are.
#[rustfmt::skip]
static ABOUT: &[About] = &[
    ("*", &[
        ("schema", "the kind of the file: `{schema}`; always"),
        ("name", "what it is called; always"),
        ("coverage", "share of shots that the fast and slow bounds cover, `99 %`; 99 % where not given"),
    ]),
    ("rules", &[
        ("name", "whose rules they are, told with every limit of theirs; always"),
        ("rule", "a rule, any number of them: see [[rule]]"),
    ]),
    ("[[rule]]", &[
        ("id", "a name of its own, `pit-distance`; always"),
        ("subject", "what is limited; always. One of: {subject}. Speeds and energies are those of the fast shot at the plate, but for `muzzle-`, which are the mean; `energy` is of one projectile, `muzzle-energy` of all in a shot; `hangs-by` is the least steel between a drawing's hangers and its body; `case` has no number"),
        ("sense", "what the rule does; always. One of: {sense}. A limit is `at-least` (distance, slow-speed, thickness, width, hangs-by, lean) or `at-most` (the rest)"),
        ("suits", "the last value that suits, in the subject's unit: `150 yd`, `3100 ft/s`, `2800 ft-lbf`, `20 deg`; with at-least or at-most. A thickness is nominal: a plate counts down to 6 % under it. Where one is meant exactly, write it divided by 0.94 and rounded down, `0.5319 in` for 0.5 in"),
        ("borderline", "the last value that is borderline, looser than `suits`; beyond `suits` it is unsuitable where not given. With `by-thickness` a share, `110 %`"),
        ("by-thickness", "in place of `suits`, for energy and demand: pairs that grow, `[[\"1/4 in\", \"700 ft-lbf\"], [\"3/8 in\", \"2800 ft-lbf\"]]`"),
        ("outcome", "what the case is, with `sense = \"outcome\"`; unsuitable or borderline"),
        ("borderlines", "with an outcome: so many concerns that are borderline at once, 2 to 7"),
        ("concern", "which concern it is where borderlines are counted; told from the subject where not given. One of: {concern}"),
        ("factor", "what limits of energy and demand are divided by, `125 %`; with `sense = \"factor\"` and the subject duty-factor, mount-factor or face-factor"),
        ("below", "a caution below this value; for a face factor, the narrowest width from which it grows"),
        ("above", "a caution above this value"),
        ("per", "for a face factor: it grows by one for each of this length"),
        ("class", "only loads of these classes, a list; all where not given. Of: {class}"),
        ("construction", "only bullets of these kinds, a list. Of: {construction}"),
        ("mount", "only plates held so, a list. Of: {mount}"),
        ("duty", "only plates that go through this, a list. Of: {duty}"),
        ("condition", "only plates in this state, a list. Of: {condition}"),
        ("steel", "only plates of these steels, a list. Of: {steel}"),
        ("thickness-from", "only plates of this nominal thickness or thicker, `3/8 in`, down to 6 % under it; see `suits` for one that is meant exactly"),
        ("thickness-below", "only plates of a thinner nominal thickness than this: more than 6 % under it"),
        ("muzzle-speed-above", "only loads of a mean muzzle velocity above this, `2000 ft/s`"),
        ("muzzle-speed-at-most", "only loads of a mean muzzle velocity up to this"),
        ("muzzle-energy-above", "only loads of more mean energy than this at the muzzle, of all projectiles in a shot"),
        ("muzzle-energy-at-most", "only loads up to this mean energy at the muzzle, of one projectile"),
        ("bullet-from", "only projectiles of this mass or heavier, `10 gr`"),
        ("bullet-below", "only projectiles lighter than this"),
        ("steel-common", "true: only cartridges that often come with steel jackets or cores; false: only the others"),
        ("within", "only nearer than this, `50 yd`"),
        ("tilt-given", "true: only where the lean of the face was given; false: only where it was not"),
        ("tilt-said", ""),
        ("why", "why, in a few words, as it is told to whom it refuses; always"),
        ("next", "what to do instead, in a few words"),
        ("basis", "what it rests on; `range rule` where not given. One of: {basis}"),
        ("source", "where it is written; the range's own rules where not given"),
    ]),
    ("loads", &[("load", "a load, any number of them: see [[load]]")]),
    ("[[load]]", &[
        ("id", "the name that it is asked by, `ranch-6mm`, without spaces; always"),
        ("name", "what people call it, `6 mm 105 gr`; bullet and velocity where not given"),
        ("cartridge", "the cartridge it is of, `6 mm ARC`"),
        ("firearm", "what fires it; judged as a rifle where not given, and a match asks for it. One of: {firearm}"),
        ("construction", "what the bullet is made of; unknown, which is never better than borderline, where not given. One of: {construction}"),
        ("bullet", "mass of the bullet, or of one pellet, `105 gr`; always"),
        ("diameter", "diameter of the bullet, `0.243 in`; the usual one of the cartridge or the mass where not given"),
        ("muzzle-velocity", "mean at the muzzle, `2930 ft/s`; always"),
        ("barrel", "the barrel that velocity is of, `24 in`"),
        ("drag", "the standard projectile that `bc` refers to, G1 or G7; always with `bc`"),
        ("bc", "ballistic coefficient in lb/in², `0.275`; or a list of bands of speed"),
        ("drag-table", "the bullet's own drag in place of `bc` and `drag`: a CSV file of Mach and Cd"),
        ("projectiles", "projectiles in a shot, `9`; 1 where not given"),
        ("steel-core-common", "true where what is unknown of its kind often has a steel core"),
        ("steel-common", "true where its cartridge often comes with steel jackets or cores"),
        ("velocity-sd", "standard deviation of the muzzle velocity, `9 ft/s`; 30 ft/s where not given"),
        ("tolerance-factor", "k of a chronograph string's bound, with `velocity-sd`"),
        ("readings", "how many readings that string has: its k at any coverage follows; with `farthest-reading` and `confidence`"),
        ("farthest-reading", "how far the farthest of them lies from the mean, in standard deviations, `2.1`"),
        ("confidence", "of that bound, `95 %`"),
        ("coverage", "the coverage the string was planned for, where above 99 %: it is judged at no less"),
        ("bc-sd", "standard deviation of the coefficient, `1 %`; 3 % where not given"),
        ("velocity-temperature-slope", "how the velocity changes with the powder's temperature, `1 ft/s per F`; that where not given, none of an air gun"),
        ("measured-at", "powder temperature that the velocity was measured at, `70 F`; 59 °F where not given"),
        ("basis", "what it rests on, `measured, 20 readings`"),
        ("source", "where it comes from"),
    ]),
    ("bc = [..]", &[
        ("above", "the band is of speeds above this, `1800 ft/s`; the last band `0 ft/s`"),
        ("bc", "the coefficient there, `0.44`"),
    ]),
    ("plates", &[("plate", "a plate, any number of them: see [[plate]]")]),
    ("[[plate]]", &[
        ("thickness", "its thickness, `3/8 in` or `10 mm`; always"),
        ("label", "what it is called; the thickness as it is written where not given"),
        ("basis", "what it rests on"),
        ("source", "where it comes from"),
    ]),
    ("shop", &[
        ("name", "the shop's name, as it stands on sheets; always"),
        ("currency", "what stands before a price, `$`; always"),
        ("kerf", "width of the cut, `0.06 in`"),
        ("web", "steel between two pieces of a sheet, `0.25 in`"),
        ("margin", "steel along a sheet's edge, `0.5 in`"),
        ("sheet", "the whole sheet, `1500 x 3000 mm`; `4 x 8 ft` where not given"),
        ("handling", "money for each piece, `6.5`"),
        ("scrap-included", "true where prices by weight are of the finished piece; where it is false or not given, all the sheet that a piece takes is paid for"),
        ("price", "a price of steel, one for each thickness, and of no other: see [[price]]"),
        ("product", "a product: see [[product]]"),
        ("parcel", "a way to send a piece; the usual ones where none is given: see [[parcel]]"),
        ("freight", "what is too heavy for a parcel: see [freight]"),
    ]),
    ("[[price]]", &[
        ("thickness", "the thickness that it is of, `3/8 in`; always"),
        ("per-pound", "money for a pound; always this, `per-kilogram` or `per-sheet`"),
        ("per-kilogram", "money for a kilogram"),
        ("per-sheet", "money for a whole sheet"),
        ("cut-per-inch", "money for an inch of cut; always this or `cut-per-metre`, `0` where a cut costs nothing"),
        ("cut-per-metre", "money for a metre of cut"),
    ]),
    ("[[product]]", &[
        ("name", "the name that it is asked by, `Gong 12`; always"),
        ("face", "its face, `12in`, `12x20in`; this or `outline`"),
        ("outline", "a drawing's file, named from where the shop's stands, or the keys of an outline's file in [product.outline]"),
        ("made", "the thicknesses it is made in: see made; always"),
        ("mount", "how it is held; where not given, as its kind is, a plate from an open-hook. One of: {mount}"),
        ("chain", "length of its chain, `8 in`, with `mount = \"chain\"`"),
        ("kind", "what kind of target it is. One of: {kind}"),
    ]),
    ("made = [..]", &[
        ("thickness", "a thickness it is made in, `3/8 in`; always"),
        ("price", "what a piece costs; reckoned from the steel where not given"),
    ]),
    ("[[parcel]]", &[
        ("name", "what it is called; always"),
        ("most", "the heaviest piece it takes, `70 lb`; always"),
        ("price", "what it costs"),
        ("per-pound", "money for a pound beside it, where it goes by weight"),
        ("per-kilogram", "the same for a kilogram"),
        ("source", "where the limit and the price come from; always"),
    ]),
    ("[freight]", &[
        ("per-pound", "money for a pound; this or `per-kilogram`"),
        ("per-kilogram", "money for a kilogram"),
        ("minimum", "the least that it costs"),
    ]),
    ("[air]", &[
        ("air", "the standard air: ICAO or ASM; ICAO where not given"),
        ("altitude", "height above sea level, `1800 ft` or a range `0 ft..2000 ft`"),
        ("temperature", "temperature, `72 F` or a range `41 F..88 F`"),
        ("pressure", "pressure at the station, in place of the altitude, `26.1 inHg`"),
        ("humidity", "relative humidity, `40 %`"),
    ]),
    ("[stand]", &[
        ("face", "its face, `12in`, `12x20in`; a 12 in round where not given"),
        ("mount", "how it is held; where not given, as its kind is, a plate from an open-hook. One of: {mount}"),
        ("chain", "length of its chain, `8 in`, with `mount = \"chain\"`"),
        ("duty", "what it goes through; where not given, private, and match in a match. One of: {duty}"),
        ("condition", "the state it is in. One of: {condition}"),
        ("steel", "what steel it is; AR500 where not given. One of: {steel}"),
        ("tilt", "lean of the face toward the shooter, `15 deg`; judged as plumb where not given"),
        ("oblique", "turn of the face sideways, `0 deg`"),
        ("slope", "slope to the target, uphill positive, `-8 deg`"),
    ]),
    ("inquiry", &[
        ("air", "the air of the place: see [air]"),
        ("load", "a load of one's own: the keys of [[load]] of a file of loads"),
        ("target", "a target: see [[target]]; a 12 in round where none is given"),
        ("shot", "what is shot at what: see [[shot]]; always"),
    ]),
    ("[[target]]", &[
        ("name", "what it is called; always"),
        ("stand", "how it stands: see [stand]"),
    ]),
    ("[[shot]]", &[
        ("load", "a load by name, listed or of the file; this or `any`"),
        ("any", "any ammunition of a cartridge, `.22 LR`"),
        ("at", "the distances, a list, `[\"200 yd\", \"400 yd\"]`; always"),
        ("target", "the targets by name, a list; all where not given"),
    ]),
    ("match", &[
        ("name", "the match's name; always"),
        ("shooters", "shooters of the match, with `rounds`: the chance that a shot passes the speed ceiling is held to `risk`"),
        ("rounds", "rounds of each shooter"),
        ("risk", "the chance that is accepted, `1 %`; that where not given"),
        ("rifle-spread", "spread of mean velocity between rifles (SD), `40 fps`; that where not given"),
        ("range-rules", "files of the range's own rules, a list, or `service-notice`"),
        ("air", "the air of the day: see [air]"),
        ("stand", "how every target stands that does not say otherwise: see [stand]"),
        ("ammunition", "what is admitted: see [[ammunition]]; any number of them"),
        ("loads", "loads that are brought, by name, a list"),
        ("any", "cartridges of which any ammunition may be brought, a list"),
        ("anything", "classes of which anything may be brought that is admitted, a list. Of: {class}"),
        ("declared", "spreadsheets of loads, a list of CSV files"),
        ("targets", "spreadsheets of targets, a list of CSV files"),
        ("columns", "heads of a spreadsheet that are called otherwise: `\"V0 (ft/s)\" = \"velocity\"`, or `\"ignore\"`"),
        ("load", "a load of one's own: the keys of [[load]] of a file of loads"),
        ("stage", "a stage: see [[stage]]; any number of them"),
    ]),
    ("[[ammunition]]", &[
        ("class", "the classes it is for, a list; all where not given. Of: {class}"),
        ("muzzle-velocity-at-most", "fastest mean velocity at the muzzle, `3200 ft/s`"),
        ("muzzle-velocity-at-least", "slowest mean velocity at the muzzle"),
        ("muzzle-energy-at-most", "most mean energy at the muzzle, of all projectiles in a shot"),
        ("calibre-at-most", "largest bullet diameter, `0.338 in`"),
        ("calibre-at-least", "smallest bullet diameter"),
        ("bullet-at-most", "heaviest bullet, `300 gr`"),
        ("power-factor-at-least", "lowest power factor, grains × ft/s ÷ 1000, `125`"),
        ("power-factor-at-most", "highest power factor"),
        ("distance-at-most", "the farthest that these classes shoot over"),
        ("cartridges", "the only cartridges that are admitted, a list"),
        ("cartridges-refused", "cartridges that are refused, a list"),
        ("refused", "bullets that are refused, a list. Of: {construction}"),
    ]),
    ("[[stage]]", &[
        ("name", "the stage's name; always"),
        ("positions", "where it is shot from, a list: see positions"),
        ("stand", "how its targets stand that do not say otherwise: see [stand]"),
        ("range-rules", "rules of the range that it stands on, over the match's"),
        ("without", "shooters or loads that are left out on it, a list"),
        ("air", "its own air: see [air]"),
        ("target", "a target: see [[stage.target]]; any number of them"),
    ]),
    ("[[stage.target]]", &[
        ("name", "what it is called; always"),
        ("plate", "thickness of the plate that hangs, `3/8 in`; always"),
        ("count", "how many of them there are; 1 where not given"),
        ("kind", "what kind of target it is. One of: {kind}"),
        ("at", "the distance it is shot from, or from the line that positions stand behind, `100 yd`"),
        ("base", "depth of the base of a falling plate, `2 in`"),
        ("positions", "where it is shot from, a list: see positions"),
        ("class", "the classes that shoot at it, a list; all where not given. Of: {class}"),
        ("without", "shooters or loads that are left out at it, a list"),
        ("stand", "how it stands: see [stand]"),
    ]),
    ("positions = [..]", &[
        ("name", "what it is called"),
        ("at", "where it begins, `150 yd`; this or `back`"),
        ("to", "the nearest point that a moving shooter may get to"),
        ("back", "how far behind the line that targets state their distance from"),
        ("slope", "the slope from it, `-20 deg`"),
        ("class", "the classes that shoot from it, a list; all where not given. Of: {class}"),
    ]),
    ("outline", &[
        ("unit", "the unit of every number: in or mm; always"),
        ("points", "the contour, `[x, y]` in turn; `[x, y, bulge]` where an arc leaves the point; always"),
        ("hole", "a hole: see [[hole]]; any number of them"),
        ("hangers", "where it hangs, `[[2, 18], [10, 18]]`; found from the holes where not given"),
        ("source", "where the drawing comes from"),
    ]),
    ("[[hole]]", &[
        ("at", "the middle of a round hole, `[2, 18]`, with `diameter`"),
        ("diameter", "of a round hole"),
        ("slot", "the two ends of a slot, `[[2, 18], [4, 18]]`, with `width`"),
        ("width", "of a slot"),
        ("points", "the contour of any other hole, as of the outline"),
    ]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_that_a_reader_accepts_is_told_and_no_other() {
        let files = files();
        for file in &files {
            for table in &file.tables {
                assert!(!table.keys.is_empty(), "{} {} has no keys", file.name, table.table);
                for key in table.keys {
                    assert!(about(file.name, table.table, key).is_some(), "{} {}: `{key}`", file.name, table.table);
                }
            }
        }
        let is_read = |place: &str, key: &str| {
            files.iter().any(|file| {
                file.tables.iter().any(|table| {
                    let of_file = format!("{} {}", file.name, table.table);
                    let is_of =
                        of_file.trim_end() == place || table.table == place || (place == "*" && table.table.is_empty());
                    is_of && table.keys.contains(&key)
                })
            })
        };
        for (place, keys) in ABOUT {
            for (key, _) in *keys {
                assert!(is_read(place, key), "{place}: `{key}` is told, and no reader takes it");
            }
        }
    }

    #[test]
    fn words_that_a_key_takes_are_listed_whole() {
        for key in [Units::Us, Units::Si].into_iter().flat_map(all) {
            assert!(!key.takes.contains(['{', '}']) || key.takes.contains("[["), "{key:?}");
            assert!(!key.takes.contains(": ,") && !key.takes.ends_with(": "), "{key:?}");
        }
    }
}
