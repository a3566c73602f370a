//! What counts as worse, and how many are named.

use super::*;

#[test]
fn a_failure_by_number_is_worse_than_one_without_and_what_suits_without_a_number_is_best() {
    let judged = |verdict, margin| Judgement { verdict, rule: None, margin };
    let rank = |verdict, margin, load| Rank::new(&judged(verdict, margin), 1.0, load);
    let worse_first = [
        rank(Verdict::Unsuitable, Some(-0.5), 0),
        rank(Verdict::Unsuitable, None, 1),
        rank(Verdict::Borderline, Some(-0.1), 2),
        rank(Verdict::Borderline, None, 3),
        rank(Verdict::Suits, Some(0.0), 4),
        rank(Verdict::Suits, Some(9.0), 5),
        rank(Verdict::Suits, None, 6),
    ];
    for (at, a) in worse_first.iter().enumerate() {
        for (other, b) in worse_first.iter().enumerate() {
            assert_eq!(a.is_worse_than(b), at < other, "{a:?} {b:?}");
            assert_eq!(a.is_clearly_better_than(b), at > other, "{a:?} {b:?}");
        }
    }
}

#[test]
fn of_those_that_come_to_the_same_the_one_that_asks_the_most_is_worst_then_the_first() {
    let judged = Judgement { verdict: Verdict::Suits, rule: None, margin: Some(0.2) };
    let rank = |demand, load| Rank::new(&judged, demand, load);
    assert!(rank(2.0, 1).is_worse_than(&rank(1.0, 0)) && !rank(1.0, 0).is_worse_than(&rank(2.0, 1)));
    assert!(rank(1.0, 0).is_worse_than(&rank(1.0, 1)) && !rank(1.0, 1).is_worse_than(&rank(1.0, 0)));
    assert!(!rank(1.0, 0).is_clearly_better_than(&rank(2.0, 1)));
}

#[test]
fn a_match_of_many_cases_names_fewer_loads_of_each() {
    let most = |cases| Tallies::new(&Size { cases, nodes: 1, kinds: 0 }).nodes[0].most;
    assert_eq!((most(1), most(1000), most(1001)), (64, 64, 8));
}

#[test]
fn the_first_loads_that_fail_are_named_in_order_and_all_are_counted() {
    let mut tally = Tally { most: 3, ..Tally::default() };
    for loads in [&[7, 9][..], &[2], &[8, 20], &[1]] {
        tally.fail(loads);
    }
    assert_eq!((tally.failing, tally.named.as_slice()), (6, &[1, 2, 7][..]));
    let mut other = Tally { most: 3, shot_by: 4, ..Tally::default() };
    other.fail(&[0, 30]);
    let both = tally.merged(other);
    assert_eq!((both.failing, both.shot_by, both.named.as_slice()), (8, 4, &[0, 1, 2][..]));
}

#[test]
fn the_first_loads_that_fail_are_named_in_whatever_order_they_come() {
    let named = |order: &[&[usize]]| {
        let mut tally = Tally { most: 3, ..Tally::default() };
        order.iter().for_each(|loads| tally.fail(loads));
        (tally.named, tally.failing)
    };
    for order in [[&[2, 9][..], &[5], &[7]], [&[7], &[5], &[2, 9]], [&[9], &[2, 7], &[5]], [&[2, 7, 9], &[5], &[]]] {
        assert_eq!(named(&order), (vec![2, 5, 7], 4), "{order:?}");
    }
}
