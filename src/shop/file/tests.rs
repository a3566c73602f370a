use super::super::price::Unpriced;
use super::super::price::{Basis, Part};
use super::*;

const GOOD: &str = r#"schema = "thickset/shop/1"
name = "Example Target Shop"
currency = "$"
scrap-included = true
handling = 4.5
[[price]]
thickness = "3/8 in"
per-pound = 2
cut-per-inch = 0.1
[[price]]
thickness = "12 mm"
per-sheet = 1400
cut-per-inch = 0.15
[[product]]
name = "Twelve gong"
face = "12in"
mount = "chain"
chain = "8 in"
made = [{ thickness = "1/2 in", price = 61 }, { thickness = "3/8 in" }]
[freight]
per-pound = 0.5
minimum = 90
"#;

fn read(text: &str) -> Result<Shop, Diagnostic> {
    Shop::read(&SourceText::new("shop.toml", text))
}

fn part(inches: f64, per_sheet: u32) -> Part {
    Part { thickness: unit::INCH.of(inches), area: unit::SQUARE_FOOT.of(1.0), cut: unit::INCH.of(48.0), per_sheet }
}

fn each(shop: &Shop, part: &Part) -> Option<i64> {
    shop.cost(part).map(|cost| cost.each.0)
}

#[test]
fn a_plate_costs_its_steel_its_cuts_and_its_handling() {
    let shop = read(GOOD).unwrap();
    // 15.31 lb at 2, 48 in at 0.1, and 4.5: the weight that is told, by 7850 kg/m³.
    assert_eq!(each(&shop, &part(0.375, 28)), Some(3063 + 480 + 450));
    assert_eq!(each(&shop, &part(12.0 / 25.4, 28)), Some(5000 + 720 + 450));
    assert_eq!(shop.cost(&part(0.375, 28)).unwrap().made_of, Some([3063, 480, 450].map(Money)));
    assert_eq!(shop.cost(&part(0.375, 28)).unwrap().basis, Basis::Weight { scrap_included: true });
    assert_eq!((Money(3990).to_string(), Money(-5).to_string()), ("39.90".into(), "-0.05".into()));
}

#[test]
fn a_plate_is_priced_from_steel_of_its_own_thickness_alone() {
    let shop = read(GOOD).unwrap();
    let metric = |mm: f64| part(mm / 25.4, 28);
    assert!(each(&shop, &metric(9.525)).is_some() && each(&shop, &metric(12.0)).is_some());
    // 1/2 in is thicker than the 12 mm that the shop has, 9.5 mm thinner than its 3/8 in.
    for other in [part(0.5, 28), metric(9.5), metric(10.0), part(0.25, 28), part(0.75, 28)] {
        assert_eq!(each(&shop, &other), None, "{other:?}");
    }
    let near = |part: &Part| shop.unpriced(None, part);
    let thickness = |labels: &[&str]| Some(Unpriced::Thickness(labels.iter().map(ToString::to_string).collect()));
    assert_eq!(near(&part(0.375, 28)), None);
    assert_eq!(near(&metric(10.0)), thickness(&["3/8 in", "12 mm"]));
    assert_eq!(near(&part(0.75, 28)), thickness(&["12 mm"]));
    assert_eq!(near(&part(0.375, 0)), Some(Unpriced::Sheet));
}

#[test]
fn a_shop_sells_any_part_in_what_it_prices() {
    let labels = |shop: &Shop| shop.plates().into_iter().map(|plate| plate.label).collect::<Vec<_>>();
    assert_eq!(labels(&read(GOOD).unwrap()), ["3/8 in", "12 mm"]);
    let metric = GOOD.replacen("\"3/8 in\"\nper-pound", "'9.525 mm'\nper-pound", 1);
    assert_eq!(labels(&read(&metric).unwrap()), ["9.525 mm", "12 mm"]);
    let mut many = GOOD.to_owned();
    for tenths in 200..=200 + MAX_PLATES {
        many += &format!(
            "[[price]]\nthickness = \"{}.{} mm\"\nper-pound = 2\ncut-per-inch = 0\n",
            tenths / 10,
            tenths % 10
        );
    }
    assert!(read(&many).unwrap_err().message.contains("thicknesses"));
}

#[test]
fn a_sheet_is_the_shop_s_own() {
    let own = GOOD.replacen("handling", "sheet = \"1500 x 3000 mm\"\nhandling", 1);
    assert_eq!(read(&own).unwrap().cutting.sheet, Sheet::parse("3000 x 1500 mm").unwrap());
    assert_eq!(read(GOOD).unwrap().cutting.sheet, Sheet::default());
    // Scrap is charged by its own share.
    let charged = |text: &str| {
        each(&read(&text.replacen("scrap-included = true", "scrap-included = false", 1)).unwrap(), &part(0.375, 28))
    };
    assert!(charged(&own) > charged(GOOD));
}

#[test]
fn what_does_not_fit_a_sheet_has_no_price() {
    let shop = read(GOOD).unwrap();
    assert_eq!((each(&shop, &part(12.0 / 25.4, 0)), each(&shop, &part(0.375, 0))), (None, None));
    let product = shop.product("twelve GONG").unwrap();
    assert_eq!(shop.product_cost(product, &part(0.5, 0)), None);
}

#[test]
fn scrap_that_is_charged_or_of_which_nothing_is_said_is_paid_by_the_share_of_the_sheet() {
    // 32 ft² of 7850 kg/m³ over 28.
    let steel = 32.0 * 0.092_903_04 * 0.009_525 * 7850.0 / unit::POUND_KG / 28.0 * 2.0;
    let expected = ((steel + 4.8 + 4.5) * 100.0_f64).round();
    #[allow(clippy::cast_possible_truncation)]
    let expected = expected as i64;
    for said in ["scrap-included = false\n", ""] {
        let shop = read(&GOOD.replacen("scrap-included = true\n", said, 1)).unwrap();
        assert_eq!(each(&shop, &part(0.375, 28)), Some(expected));
        assert_eq!(shop.cost(&part(0.375, 28)).unwrap().basis, Basis::Weight { scrap_included: false });
    }
}

#[test]
fn a_price_per_kilogram_and_metre_is_that_per_pound_and_inch() {
    let metric = GOOD.replacen("per-pound = 2", &format!("per-kilogram = {}", 2.0 / unit::POUND_KG), 1).replacen(
        "cut-per-inch = 0.1\n",
        &format!("cut-per-metre = {}\n", 0.1 / 0.0254),
        1,
    );
    assert_eq!(each(&read(&metric).unwrap(), &part(0.375, 28)), each(&read(GOOD).unwrap(), &part(0.375, 28)));
}

#[test]
fn a_product_has_its_own_price_or_one_by_weight_and_none_where_it_is_not_made() {
    let shop = read(GOOD).unwrap();
    let product = shop.product(" twelve gong").unwrap();
    assert_eq!(product.made.iter().map(|m| m.plate.label.as_str()).collect::<Vec<_>>(), ["3/8 in", "1/2 in"]);
    assert_eq!((product.mount, product.kind), (Some(Mount::Chain), Kind::Plate));
    let cost = |inches| shop.product_cost(product, &part(inches, 28));
    assert_eq!((cost(0.5).unwrap().each, cost(0.5).unwrap().basis), (Money(6100), Basis::Product));
    assert_eq!(cost(0.375), shop.cost(&part(0.375, 28)));
    assert_eq!(cost(0.25), None);
    let unknown = shop.product("twelve gon").unwrap_err();
    assert!(unknown.help().contains("Twelve gong"), "{}", unknown.help());
}

#[test]
fn a_quote_is_for_all_plates_with_their_sheets_and_their_shipping() {
    let shop = read(GOOD).unwrap();
    let part = part(0.375, 28);
    let cost = shop.cost(&part).unwrap();
    let quote = shop.quote(cost, &part, unit::POUND.of(12.0), 30).unwrap();
    assert_eq!((quote.total, quote.sheets), (Money(30 * 3993), 2));
    assert_eq!((quote.shipping.parcel, quote.shipping.cost), (None, Some(Money(18_000))));
    assert_eq!(shop.quote(cost, &Part { per_sheet: 0, ..part }, unit::POUND.of(12.0), 30), None);
}

#[test]
fn an_outline_stands_in_the_file_or_in_another_which_is_not_opened_here() {
    let inline = r#"outline = { schema = "thickset/outline/1", name = "tab", unit = "in", points = [[0, 0], [8, 0], [8, 9], [0, 9]] }"#;
    let shop = read(&GOOD.replacen("face = \"12in\"", inline, 1)).unwrap();
    let area = shop.products[0].face().unwrap().area();
    assert!((unit::SQUARE_INCH.value(area) - 72.0).abs() < 1e-6, "{area:?}");
    let text = GOOD.replacen("face = \"12in\"", "outline = \"tab.dxf\"", 1);
    let source = SourceText::new("shop.toml", text.as_str());
    let shape = |shop: Shop| shop.products.into_iter().next().unwrap().shape;
    assert_eq!(shape(Shop::read(&source).unwrap()), Shape::File("tab.dxf".into()));
    let beside = Path::new("wares").join("tab.dxf").to_string_lossy().into_owned();
    assert_eq!(shape(Shop::read_in(&source, Path::new("wares")).unwrap()), Shape::File(beside));
}

#[test]
fn a_file_without_products_is_read_as_ever() {
    let old = "schema = \"thickset/shop/1\"\nname = \"Foundry Lane\"\ncurrency = \"$\"\nscrap-included = true\n[[price]]\nthickness = \"3/8 in\"\nper-pound = 2\ncut-per-inch = 0.1\n";
    let shop = read(old).unwrap();
    assert!(shop.products.is_empty() && shop.freight.is_none() && shop.scrap_included);
    assert_eq!(each(&shop, &part(0.375, 28)), Some(3063 + 480));
}

#[test]
fn a_fault_in_the_file_is_shown_at_its_place() {
    for (from, to, line) in [
        ("per-pound = 2", "per-pound = -2", 6),
        ("per-pound = 2", "per-sheet = 2\nper-pound = 2", 6),
        ("per-pound = 2", "per-kilogram = 2\nper-pound = 2", 6),
        ("cut-per-inch = 0.1\n", "", 6),
        ("\"12 mm\"", "\"3/8 in\"", 10),
        ("handling = 4.5", "handling = -1.0", 5),
        ("currency", "currenzy", 3),
        ("\"$\"", "\"\\u001b[31m$\"", 3),
        ("Example Target Shop", " ", 2),
        ("face = \"12in\"", "face = \"12\"", 14),
        ("face = \"12in\"\n", "", 14),
        ("handling = 4.5", "handling = 4.5\nsheet = \"1500 x 3000\"", 6),
        ("price = 61", "price = -61", 14),
        ("\"1/2 in\", price = 61", "\"3/8 in\"", 14),
        ("mount = \"chain\"", "mount = \"welded\"", 14),
        ("minimum = 90", "minimum = -90", 20),
    ] {
        let fault = read(&GOOD.replacen(from, to, 1)).unwrap_err();
        assert_eq!(fault.position().map(|p| p.0), Some(line), "{to}: {fault}");
        assert!(fault.help.is_some() || to == "currenzy", "{to}: {fault}");
    }
}

#[test]
fn the_example_shop_has_a_dozen_products_that_can_each_be_cut_and_priced() {
    let shop = read(include_str!("../../../examples/shop.toml")).unwrap();
    assert_eq!(shop.products.len(), 12);
    for product in &shop.products {
        let plans = super::super::sheet::plans(product.face().unwrap(), &shop.cutting);
        for made in &product.made {
            let part = Part::of(product.face().unwrap(), &made.plate, plans[0].count());
            let cost = shop.product_cost(product, &part).unwrap();
            // Believable: a plate costs more than a dollar and less than four a pound and forty.
            let pounds = unit::POUND.value(product.face().unwrap().mass(made.plate.thickness));
            #[allow(clippy::cast_precision_loss)]
            let each = cost.each.0 as f64 / 100.0;
            assert!(each > 1.0 && each < 4.0 * pounds + 40.0, "{} {}: {cost}", product.name, made.plate.label);
        }
    }
}
