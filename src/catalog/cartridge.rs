//! Cartridges as people write them.

/// Words of cartridge names and the short form each is compared by (terms of the trade).
const WORDS: &[(&str, &str)] = &[
    ("winchester", "win"),
    ("remington", "rem"),
    ("magnum", "mag"),
    ("special", "spl"),
    ("spcl", "spl"),
    ("springfield", ""),
    ("government", "govt"),
    ("blackout", "blk"),
    ("creedmoor", "cm"),
    ("gauge", "ga"),
    ("auto", "acp"),
    ("automatic", "acp"),
    ("rimfire", ""),
    ("cartridge", ""),
    ("ammo", ""),
    ("ammunition", ""),
];

/// Whole names, in compared form, of one and the same cartridge (terms of the trade). Chambers that
/// merely accept each other's cartridges are not the same: their pressures differ.
const SAME: &[(&str, &str)] = &[
    ("9mm", "9mmluger"),
    ("9x19", "9mmluger"),
    ("9x19mm", "9mmluger"),
    ("9mmpara", "9mmluger"),
    ("9mmparabellum", "9mmluger"),
    ("22longrifle", "22lr"),
    ("22wmagr", "22wmr"),
    ("22mag", "22wmr"),
    ("556nato", "556mm"),
    ("556x45", "556mm"),
    ("556x45mm", "556mm"),
    ("556x45mmnato", "556mm"),
    ("762x39", "762x39mm"),
    ("545x39", "545x39mm"),
    ("762x54mmr", "762x54r"),
    ("127x99", "50bmg"),
    ("127x99mm", "50bmg"),
];

/// The form two spellings of one cartridge share: lower case, letters and digits only, the words of
/// the trade shortened.
pub(super) fn plain(name: &str) -> String {
    let name = name.to_lowercase().replace('×', "x");
    let mut whole = String::new();
    for run in name.split(|c: char| !c.is_alphanumeric()) {
        // A digit and a word written together, `308winchester`, are two.
        let mut rest = run;
        while !rest.is_empty() {
            let digits = rest.chars().next().is_some_and(char::is_numeric);
            let end = rest.find(|c: char| c.is_numeric() != digits).unwrap_or(rest.len());
            let (word, after) = rest.split_at(end);
            whole.push_str(WORDS.iter().find(|(long, _)| *long == word).map_or(word, |(_, short)| short));
            rest = after;
        }
    }
    match SAME.iter().find(|(other, _)| *other == whole) {
        Some((_, same)) => (*same).to_owned(),
        None => whole,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_one_cartridge_compare_equal() {
        for (one, other) in [
            (".308 Win", "308 Winchester"),
            (".308 Win", "308winchester"),
            (".45 Auto", ".45 ACP"),
            ("9 mm Luger", "9x19"),
            ("7.62 x 39 mm", "7.62×39"),
            ("7 mm Rem Mag", "7mm Remington Magnum"),
            (".22 LR", "22 Long Rifle"),
            ("12 gauge", "12ga"),
            (".30-06", "30-06 Springfield"),
            ("6.5 Creedmoor", "6.5 CM"),
        ] {
            assert_eq!(plain(one), plain(other), "{one} and {other}");
        }
    }

    #[test]
    fn cartridges_of_different_pressure_or_case_stay_apart() {
        for (one, other) in [(".223 Rem", "5.56 mm"), (".300 Win Mag", ".300 Blackout"), (".38 Special", ".357 Magnum")]
        {
            assert_ne!(plain(one), plain(other), "{one} and {other}");
        }
    }
}
