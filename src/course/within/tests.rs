//! Targets farther off than the rules let a class shoot.

use super::super::tests::read;

#[test]
fn a_target_beyond_what_a_class_may_shoot_over_is_told_whether_it_names_the_class_or_not() {
    let told = |yards: u32, class: &str| -> Vec<String> {
        let course = read(&format!(
            "loads = [\"308-168-match\", \"9mm-124\"]\n[[ammunition]]\nclass = [\"handgun\"]\ndistance-at-most = \"50 yd\"\n\
             [[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\nplate = \"1/2 in\"\nat = \"{yards} yd\"\n{class}"
        ));
        course.unwrap().unread.shown().iter().map(|fault| fault.message.clone()).collect()
    };
    for class in ["", "class = [\"handgun\", \"rifle\"]\n"] {
        assert_eq!(told(50, class), [""; 0], "{class}");
        let far = told(51, class);
        assert!(far.len() == 1 && far[0].contains("is beyond the rules' 50 yd"), "{class}: {far:?}");
    }
    assert_eq!(told(300, "class = [\"rifle\"]\n"), [""; 0]);
}
