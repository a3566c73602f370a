//! Words of the trade in place of ours.

use super::words::nearest;

/// What people write, lower case and with hyphens, and the words here that may be meant by it.
#[rustfmt::skip]
pub const TRADE: &[(&str, &[&str])] = &[
    ("pistol", &["handgun", "rimfire-pistol"]),
    ("revolver", &["handgun", "rimfire-pistol"]),
    ("sidearm", &["handgun", "rimfire-pistol"]),
    ("rimfire", &["rimfire-rifle", "rimfire-pistol"]),
    ("22", &["rimfire-rifle", "rimfire-pistol"]),
    ("22lr", &["rimfire-rifle", "rimfire-pistol"]),
    ("centrefire", &["rifle", "handgun", "pistol-carbine"]),
    ("centerfire", &["rifle", "handgun", "pistol-carbine"]),
    ("carbine", &["pistol-carbine", "rifle"]),
    ("pcc", &["pistol-carbine"]),
    ("long-gun", &["rifle", "rimfire-rifle", "pistol-carbine", "shotgun", "shot", "slug"]),
    ("shotgun", &["shot", "slug"]),
    ("pellet", &["air-gun", "shot", "lead-shot"]),
    ("birdshot", &["shot", "lead-shot", "steel-shot"]),
    ("buckshot", &["shot", "lead-shot"]),
    ("black-powder", &["muzzle-loader"]),
    ("muzzleloader", &["muzzle-loader"]),
    ("airgun", &["air-gun"]),
    ("air-rifle", &["air-gun"]),
    ("air-pistol", &["air-gun"]),
    ("green-tip", &["steel-core"]),
    ("m855", &["steel-core"]),
    ("ss109", &["steel-core"]),
    ("steel-tip", &["steel-core"]),
    ("mild-steel-core", &["steel-core"]),
    ("black-tip", &["armour-piercing"]),
    ("ap", &["armour-piercing"]),
    ("armor-piercing", &["armour-piercing"]),
    ("api", &["armour-piercing", "incendiary"]),
    ("bimetal", &["steel-jacket"]),
    ("bi-metal", &["steel-jacket"]),
    ("steel-jacketed", &["steel-jacket"]),
    ("fmj", &["jacketed-lead"]),
    ("full-metal-jacket", &["jacketed-lead", "steel-jacket"]),
    ("jacketed", &["jacketed-lead"]),
    ("copper-jacket", &["jacketed-lead"]),
    ("hollow-point", &["jacketed-lead"]),
    ("soft-point", &["jacketed-lead"]),
    ("lead-core", &["jacketed-lead"]),
    ("copper", &["monolithic", "jacketed-lead"]),
    ("solid-copper", &["monolithic"]),
    ("all-copper", &["monolithic"]),
    ("solid", &["monolithic"]),
    ("brass", &["monolithic"]),
    ("mono", &["monolithic"]),
    ("cast", &["lead"]),
    ("cast-lead", &["lead"]),
    ("hard-cast", &["lead"]),
    ("coated", &["lead", "plated"]),
    ("tracers", &["tracer"]),
    ("steel", &["steel-core", "steel-jacket", "steel-shot"]),
    ("surplus", &["unknown"]),
    ("speed", &["impact-speed", "muzzle-speed", "slow-speed"]),
    ("velocity", &["impact-speed", "muzzle-speed", "slow-speed"]),
    ("fps", &["impact-speed", "muzzle-speed"]),
    ("impact-velocity", &["impact-speed"]),
    ("muzzle-velocity", &["muzzle-speed"]),
    ("power", &["energy", "muzzle-energy"]),
    ("impact-energy", &["energy"]),
    ("range", &["distance"]),
    ("standoff", &["distance"]),
    ("caliber", &["calibre"]),
    ("diameter", &["calibre"]),
    ("tilt", &["lean"]),
    ("angle", &["lean", "oblique"]),
    ("turn", &["oblique"]),
    ("max", &["at-most"]),
    ("maximum", &["at-most"]),
    ("up-to", &["at-most"]),
    ("no-more-than", &["at-most"]),
    ("less-than", &["at-most"]),
    ("<=", &["at-most"]),
    ("min", &["at-least"]),
    ("minimum", &["at-least"]),
    ("no-less-than", &["at-least"]),
    ("more-than", &["at-least"]),
    (">=", &["at-least"]),
    ("limit", &["at-most", "at-least"]),
    ("verdict", &["outcome"]),
    ("forbid", &["outcome"]),
    ("forbidden", &["outcome"]),
    ("multiplier", &["factor"]),
    ("warning", &["caution"]),
    ("warn", &["caution"]),
    // Of a plate's state never the mildest: who has looked it over knows our word for that.
    ("crack", &["cracked"]),
    ("broken", &["cracked"]),
    ("split", &["cracked"]),
    ("repaired", &["cracked"]),
    ("pit", &["pitted"]),
    ("pock", &["pitted", "cratered"]),
    ("crater", &["cratered"]),
    ("gouged", &["cratered"]),
    ("dent", &["cratered", "bowed"]),
    ("dented", &["cratered", "bowed"]),
    ("bent", &["bowed"]),
    ("bow", &["bowed"]),
    ("warped", &["bowed"]),
    ("dished", &["bowed"]),
    ("hole", &["holed"]),
    ("shot-through", &["holed"]),
    ("worn", &["pitted", "unknown"]),
    ("new", &["unknown"]),
    ("good", &["unknown"]),
    ("fine", &["unknown"]),
    ("ok", &["unknown"]),
    ("used", &["unknown"]),
    ("old", &["unknown"]),
    ("hook", &["open-hook", "captive-hook"]),
    ("captive", &["captive-hook"]),
    ("closed-hook", &["captive-hook"]),
    ("post", &["bolted"]),
    ("t-post", &["bolted"]),
    ("bolt", &["bolted"]),
    ("fixed", &["bolted"]),
    ("rigid", &["bolted"]),
    ("static", &["bolted"]),
    ("weld", &["welded"]),
    ("bracket", &["welded", "bolted"]),
];

/// The words that may be meant by another, of those that would do: the same written otherwise, ours for one of the
/// trade, else the nearest.
#[must_use]
pub fn meant<'a>(word: &str, would_do: &[&'a str]) -> Vec<&'a str> {
    let plain = |text: &str| {
        let words: Vec<&str> =
            text.split(|c: char| c.is_whitespace() || "-_./".contains(c)).filter(|part| !part.is_empty()).collect();
        words.join("-").to_lowercase()
    };
    let asked = plain(word);
    let same: Vec<&str> = would_do.iter().copied().filter(|ours| plain(ours) == asked).collect();
    if !same.is_empty() {
        return same;
    }
    let singular = asked.strip_suffix('s').unwrap_or(&asked);
    let known = TRADE.iter().find(|(trade, _)| *trade == asked || *trade == singular);
    let known: Vec<&str> = known
        .map(|(_, ours)| would_do.iter().copied().filter(|word| ours.contains(word)).collect())
        .unwrap_or_default();
    if !known.is_empty() {
        return known;
    }
    // Another number is another thing: AR450 is no slip for AR550.
    let digits = |word: &str| word.chars().filter(char::is_ascii_digit).collect::<String>();
    let alike = |ours: &&str| !ours.is_empty() && digits(ours) == digits(word);
    nearest(word, would_do.iter().copied().filter(alike)).into_iter().collect()
}

/// `did you mean `a` or `b`?`; none where nothing is near.
#[must_use]
pub fn did_you_mean(word: &str, would_do: &[&str]) -> Option<String> {
    let told: Vec<String> = meant(word, would_do).iter().map(|ours| format!("`{ours}`")).collect();
    (!told.is_empty()).then(|| format!("did you mean {}?", told.join(" or ")))
}
