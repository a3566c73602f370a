//! What stands on a hinge or a base is held alike by every door, and hung by none.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const POPPER: &str = "vet --load 308-168-match --plate 3/8in --at 200yd --kind popper --condition sound --tilt 10deg \
                      --altitude 500ft --temperature 60F";

/// A page as one line.
fn unwrapped(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_popper_without_a_mount_is_judged_rigid_and_no_hook_is_its_way_out() {
    let told = |more: &str| {
        let output = thickset(&format!("{POPPER} {more}"));
        (status(&output), unwrapped(&stdout(&output)))
    };
    let ((code, text), (bolted, _)) = (told(""), told("--mount bolted"));
    assert!(code != 0 && code == bolted, "{text}");
    assert!(text.contains("taken as bolted rigid") && !text.contains("open hooks"), "{text}");
    let full = told("--full").1;
    assert!(full.contains("a popper is taken as bolted") && !full.contains("Have it hung"), "{full}");
    // The same plate bolted can be hung.
    let plate = POPPER.replace("popper", "plate --mount bolted");
    let hung = unwrapped(&stdout(&thickset(&plate)));
    assert!(hung.contains("Have it hung from open hooks"), "{hung}");
}

#[test]
fn a_hook_or_a_chain_given_to_what_stands_is_refused() {
    for kind in ["popper", "falling"] {
        for mount in ["open-hook", "captive-hook", "chain"] {
            let output = thickset(&format!("{} --mount {mount}", POPPER.replace("popper", kind)));
            assert_eq!(status(&output), 2, "{kind} {mount}: {}", stdout(&output));
            assert!(stderr(&output).contains(&format!("`{mount}` is given")), "{}", stderr(&output));
        }
    }
}

#[test]
fn a_product_that_is_a_popper_stands_rigid_without_a_mount_and_is_refused_a_hook() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.toml");
    let shop = |more: &str| {
        let text = format!(
            "schema = \"thickset/shop/1\"\nname = \"Shop\"\ncurrency = \"$\"\n[[product]]\nname = \"Pop\"\nface = \"12in\"\n{more}made = [{{ thickness = \"3/8 in\", price = 40 }}]\n"
        );
        fs::write(&path, text).expect("a file");
        let air = "--condition sound --tilt 10deg --altitude 500ft --temperature 60F";
        thickset(&format!("advise --load 308-168-match --at 200yd --shop {} --product Pop {air}", path.display()))
    };
    assert_eq!(status(&shop("")), 0, "{}{}", stdout(&shop("")), stderr(&shop("")));
    let popper = shop("kind = \"popper\"\n");
    assert!(
        stdout(&popper).starts_with("Borderline") && stdout(&popper).contains("on its hinge"),
        "{}",
        stdout(&popper)
    );
    let same = shop("kind = \"popper\"\nmount = \"bolted\"\n");
    assert_eq!(status(&same), status(&popper), "{}", stdout(&same));
    let hung = shop("kind = \"popper\"\nmount = \"captive-hook\"\n");
    assert!(status(&hung) == 2 && stderr(&hung).contains("a popper is on its hinge"), "{}", stderr(&hung));
}

#[test]
fn what_a_match_hangs_its_gongs_from_makes_no_popper_ready() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("m.toml");
    let ready = |all: &str, kind: &str| {
        let text = format!(
            "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"308-168-match\"]\n[air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n{all}[[stage]]\nname = \"S\"\n[[stage.target]]\nname = \"t\"\nplate = \"3/8 in\"\nat = \"200 yd\"\nkind = \"{kind}\"\nstand = {{ condition = \"sound\", tilt = \"10 deg\", duty = \"private\" }}\n"
        );
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("course {}", path.display()));
        assert_ne!(status(&output), 2, "{}", stderr(&output));
        status(&output) == 0
    };
    let hooks = "[stand]\nmount = \"captive-hook\"\n";
    assert!(ready(hooks, "plate") && ready(hooks, "falling") && ready(hooks, "spinner"));
    assert!(!ready("", "popper") && !ready(hooks, "popper"));
}

#[test]
fn a_range_s_rule_on_what_is_rigid_meets_a_popper_without_a_mount() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("r.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n[[rule]]\nid = \"no-rigid\"\nsubject = \"case\"\n\
                sense = \"outcome\"\noutcome = \"unsuitable\"\nmount = [\"bolted\", \"welded\"]\nwhy = \"nothing rigid here\"\nnext = \"hang it\"\n";
    fs::write(&path, rule).expect("a file");
    let near = "--load 9mm-124 --at 25yd --plate 3/8in --condition sound --tilt 20deg";
    let judged = |kind: &str| thickset(&format!("vet {near} --kind {kind} --range-rules {}", path.display()));
    let (popper, plate) = (judged("popper"), judged("plate"));
    assert!(status(&popper) == 1 && stdout(&popper).contains("nothing rigid here"), "{}", stdout(&popper));
    assert_eq!(status(&plate), 0, "{}{}", stdout(&plate), stderr(&plate));
}

#[test]
fn a_product_s_own_kind_is_not_overridden() {
    for kind in ["spinner", "popper", "plate"] {
        let output = thickset(&format!(
            "vet --load 9mm-124 --at 15yd --plate 3/8in --shop examples/shop.toml --product \"Falling plate 8\" --kind {kind}"
        ));
        assert_eq!(status(&output), 2, "{kind}: {}", stdout(&output));
        assert!(stderr(&output).contains("the product is a falling plate, by the shop's file"), "{}", stderr(&output));
    }
}
