//! Writes a large invented match to standard output, for trying the tool at scale:
//!
//! `cargo run --release --example large_course -- 100 1000 > large.toml`, targets and loads.

fn main() {
    let mut counts = std::env::args().skip(1).map(|a| a.parse::<usize>().unwrap_or(100));
    let (targets, loads) =
        (counts.next().unwrap_or(100).clamp(1, 10_000), counts.next().unwrap_or(1000).clamp(1, 10_000));
    println!("schema = \"thickset/course/1\"\nname = \"A large invented match\"\n");
    println!("[stand]\ncondition = \"sound\"\nduty = \"match\"\ntilt = \"20 deg\"\n");
    for i in 0..loads {
        let (grains, speed, bc) = (50 + i % 150, 2000 + (i * 7) % 900, 20 + i % 10);
        println!("[[load]]\nid = \"load-{i}\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"");
        println!("bullet = \"{grains} gr\"\nmuzzle-velocity = \"{speed} ft/s\"\ndrag = \"G7\"\nbc = \"0.{bc}\"\n");
    }
    println!("[[stage]]\nname = \"ridge\"\n");
    for i in 0..targets {
        let plate = ["1/4 in", "3/8 in", "1/2 in", "3/4 in"][i % 4];
        println!("[[stage.target]]\nname = \"target {i}\"\nplate = \"{plate}\"\nat = \"{} yd\"", 100 + 9 * (i % 100));
        println!("stand = {{ slope = \"{} deg\" }}\n", i % 8);
    }
}
