//! The document is the serialised answer, and it is what its schema says.

use crate::misfits::misfits;
use crate::schemas::schema;
use serde::Serialize;
use serde_json::Value;
use thickset::advisor::{
    AdviseAnswer, Advisor, ChronoAnswer, StandoffAnswer, StandoffQuestion, StrikeAnswer, VetAnswer,
};

fn document<A: Serialize>(name: &str, answer: &A) -> Value {
    let schema: Value = serde_json::from_str(&schema(name)).unwrap();
    let value = serde_json::to_value(answer).unwrap();
    let mut found = Vec::new();
    misfits(&value, &schema, &schema, "$", &mut found);
    assert!(found.is_empty(), "{found:#?}");
    for key in ["schema", "program", "inputs", "assumed", "holds_for", "rules", "cautions", "notice", "headline"] {
        assert!(value.get(key).is_some(), "{key}");
    }
    value
}

fn ask<Q: serde::de::DeserializeOwned>(text: &str) -> Q {
    serde_json::from_str(text).unwrap()
}

#[test]
fn every_answer_fits_its_schema_and_keeps_the_keys_in_use() {
    let advisor = Advisor::house().unwrap();
    let vet: VetAnswer = advisor
        .vet(&ask(r#"{"load": "300wm-180", "at": "50 yd", "plate": "1/4 in", "kind": "popper", "figures": true}"#))
        .unwrap();
    let value = document("vet", &vet);
    for key in ["verdict", "findings", "would_suit", "governed_by", "margin", "strike"] {
        assert!(value.get(key).is_some(), "{key}");
    }
    let advise: AdviseAnswer =
        advisor.advise(&ask(r#"{"load": "308-168-match", "at": "100 yd", "figures": true}"#)).unwrap();
    let value = document("advise", &advise);
    for key in ["verdict", "recommended", "borderline", "plates", "remedies"] {
        assert!(value.get(key).is_some(), "{key}");
    }
    for key in ["label", "thickness_m", "verdict", "margin", "governed_by", "findings", "reaction", "material"] {
        assert!(value["plates"][0].get(key).is_some(), "{key}");
    }
    let standoff: StandoffAnswer =
        advisor.standoff(&ask(r#"{"load": "308-168-match", "plate": "3/8 in", "figures": true}"#)).unwrap();
    let value = document("standoff", &standoff);
    for key in ["distance_m", "why", "by", "next"] {
        assert!(value["rows"][0]["plates"][0]["closest"].get(key).is_some(), "{key}");
    }
    document("standoff", &advisor.standoff(&StandoffQuestion::default()).unwrap());
    let strike: StrikeAnswer = advisor.strike(&ask(r#"{"load": "308-168-match", "figures": true}"#)).unwrap();
    document("strike", &strike);
    let chrono: ChronoAnswer =
        advisor.chrono(&ask(r#"{"readings": "2648fps 2655fps 2641fps", "load": "308-168-match"}"#)).unwrap();
    let value = document("chrono", &chrono);
    for key in ["n", "mean_m_s", "sd_m_s", "k", "bound_m_s"] {
        assert!(value.get(key).is_some(), "{key}");
    }
}

#[test]
fn names_from_other_peoples_files_steer_no_terminal() {
    let loads = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"x\"\nname = \"evil\\u001b[31m\\u202e\"\nbullet = \"168 gr\"\n\
                 muzzle-velocity = \"2600 fps\"\nbc = \"0.2\"\ndrag = \"G7\"\nconstruction = \"jacketed-lead\"\nsource = \"a\\u0007b\"\n";
    let advisor = Advisor::house().unwrap().with_loads(loads).unwrap();
    let answer = advisor.vet(&ask(r#"{"load": "x", "at": "100 yd", "plate": "3/8 in"}"#)).unwrap();
    let text = serde_json::to_string(&answer).unwrap();
    assert!(
        text.contains("evil") && !text.contains("\\u001b") && !text.contains('\u{202e}') && !text.contains("\\u0007")
    );
}
