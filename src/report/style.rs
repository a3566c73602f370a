//! How pages are set: system typefaces, black on paper, and no colour that has to be told apart.
//!
//! How a row stands is said by its words; the edge beside it is whole, dashed or doubled, so that it also reads on a
//! grey print.

use super::page::Kind;

/// The style of a kind of page.
pub(super) fn of(kind: Kind) -> String {
    let own = match kind {
        Kind::Answer | Kind::DistanceTable => "",
        Kind::Customer => CUSTOMER,
        Kind::WallChart => WALL,
        Kind::Tag | Kind::CloseTag => TAG,
    };
    format!("{BASE}{PHONE}{PRINT}{own}")
}

/// How many columns a wall chart of so many lines takes to stay on its page, and how large its letters.
pub(super) fn columns(lines: usize) -> &'static str {
    match lines {
        0..=30 => "lot few",
        31..=80 => "lot some",
        81..=120 => "lot many",
        121..=190 => "lot crowd",
        _ => "lot throng",
    }
}

const BASE: &str = "
:root{--paper:#f4f2ee;--ink:#1d1f21;--soft:#5d6166;--rule:#c9c5bd;--edge:#8a4b2a;color-scheme:light dark}
@media(prefers-color-scheme:dark){:root{--paper:#1b1d1f;--ink:#ece9e3;--soft:#a5a9ad;--rule:#43474b;--edge:#d08a5c}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 Charter,Cambria,Georgia,serif;overflow-wrap:anywhere}
main{max-width:56rem;margin:0 auto;padding:1.5rem 1.25rem 3rem}
header{border-top:.5rem solid var(--ink);padding:.9rem 0 .2rem}
header.doubtful{border-top-style:dashed}
header.bad{border-top-style:double;border-top-width:.75rem}
h1{font-size:clamp(1.3rem,4.2vw,1.9rem);line-height:1.22;margin:0 0 .6rem;font-weight:700;text-wrap:balance}
header p{margin:.25rem 0;font-size:1.08rem}
h2{font-size:1.02rem;margin:1.9rem 0 .4rem;padding-bottom:.15rem;border-bottom:1px solid var(--rule);break-after:avoid}
p,ul{margin:.5rem 0}ul{padding-left:1.2rem}li{margin:.15rem 0}
.note{margin:.9rem 0;padding-left:.8rem;border-left:1px solid var(--rule)}
.soft{color:var(--soft)}
dl{margin:.6rem 0}dl div{display:flex;gap:1rem;padding:.12rem 0}
dt{flex:0 0 9.5rem;color:var(--soft)}dd{margin:0}
.sheet{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;font-size:.95rem;font-variant-numeric:tabular-nums lining-nums}
th,td{padding:.34rem .7rem;vertical-align:top;text-align:left;overflow-wrap:normal}
thead th{border-bottom:2px solid var(--ink);color:var(--soft);font-weight:600;vertical-align:bottom}
tbody tr{border-bottom:1px solid var(--rule)}tbody th{font-weight:600}
.n{text-align:right;white-space:nowrap}.b{white-space:nowrap}
tbody tr th{border-left:.32rem solid transparent}
tr.good th:first-child{border-left-color:var(--ink)}
tr.doubtful th:first-child{border-left:.32rem dashed var(--edge)}
tr.bad th:first-child{border-left:.32rem double var(--edge)}
tr.named{outline:2px solid var(--ink);outline-offset:-2px}
figure{margin:1.6rem 0;max-width:40rem;break-inside:avoid}figure svg{display:block;width:100%;height:auto}
figcaption{font-size:.9rem;margin-top:.2rem}
footer{margin-top:2.2rem;border-top:2px solid var(--ink);font-weight:600}
";

const PHONE: &str = "
@media screen and (max-width:38rem){
dt{flex-basis:8rem}
.sheet{overflow:visible}table,tbody{display:block}thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
tbody tr{display:grid;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:.1rem 1rem;padding:.5rem 0 .55rem .6rem}
tbody tr:first-child{border-top:2px solid var(--ink)}
tr[class] th,tr[class] td{display:block;padding:0;text-align:left;white-space:normal;overflow-wrap:anywhere}
tr[class] th,tr[class] td.l{grid-column:1/-1}
tbody td::before{content:attr(data-label);margin-right:.55em;color:var(--soft)}
tbody tr[class] th:first-child{border-left:0 none}
tbody tr{border-left:.32rem solid transparent}
tr.good{border-left-color:var(--ink)}tr.doubtful{border-left:.32rem dashed var(--edge)}tr.bad{border-left:.32rem double var(--edge)}}
";

const PRINT: &str = "
@media print{@page{margin:14mm}:root{--paper:#fff;--ink:#000;--soft:#333;--rule:#999;--edge:#000}
main{max-width:none;padding:0}body{font-size:10pt;line-height:1.35}.sheet{overflow:visible}tr,li{break-inside:avoid}
figure{max-width:130mm}}
";

/// A letter to a customer: what to hang, how near, and what never.
const CUSTOMER: &str = "
.customer header{border-top-width:.2rem}.customer header p{margin:0}
.customer .note{border-left:0;padding:.35rem 0 0;margin:.35rem 0;border-top:1px solid var(--rule);break-inside:avoid}
@media (min-width:38.01rem),print{.customer .note{display:grid;grid-template-columns:9.5rem 1fr;gap:1rem}
.customer .note b{font-weight:400;color:var(--soft)}}
@media print{.customer .note,.customer dl{font-size:10.5pt}}
";

/// One landscape page whatever the number of loads: more loads, more columns and smaller letters.
const WALL: &str = "
main.wall{max-width:75rem;font-family:Times New Roman,Times,Liberation Serif,serif}
.wall header p{font-size:1rem}
.wall .note{margin:.3rem 0;border-left:0;padding-left:0}
.lot{column-gap:1.4rem}.lot h2{margin:.6rem 0 .1rem}.lot .sheet{margin:0 0 .4rem;overflow:visible}
.lot th,.lot td{padding:.1rem .3rem}.lot tbody th{font-weight:400;border-left:0}.lot td{font-weight:600}
@media screen and (min-width:60rem){.some,.many,.crowd,.throng{columns:2}}
@media print{@page{size:landscape;margin:7mm}main.wall{font-size:8pt;line-height:1.15}.wall header{padding-top:.3rem;border-top-width:.15rem}
.wall h1{font-size:13pt;margin:0 0 .1rem}.wall header{padding-bottom:0}.wall .note{display:inline;font-size:8pt;line-height:1.15}.lot{margin-top:.2rem}
.lot th,.lot td{padding:0 .18rem;line-height:1.22}.lot .n{width:2.7em}.lot td{white-space:nowrap}.lot th{white-space:normal}.lot thead th{white-space:nowrap;border-bottom-width:.6pt}.lot h2{font-size:1.1em;margin:.35em 0 0;border-bottom:0;padding:0}
.lot .sheet{margin:0}.lot table{font-size:1em}
.few{font-size:11pt}.some{columns:2;font-size:9.5pt}.many{columns:2;font-size:8pt}.crowd{columns:3;font-size:6.6pt;column-gap:.8rem}
.throng{columns:4;font-size:5.5pt;column-gap:.8rem}
.many th,.many td,.crowd th,.crowd td,.throng th,.throng td{line-height:1.1}.lot tbody tr{border-bottom-width:.3pt}}
";

/// A tag of 4 by 6 inches that hangs on a stand.
const TAG: &str = "
main.tag{max-width:26rem;border:2px solid var(--ink);margin:1rem auto;padding:1rem}
.tag header{border-top:0;padding:0}.tag h1{font-size:1.7rem;margin:0}
.tag .note{border-left:0;padding-left:0;margin:.4rem 0}.tag td{font-weight:700}.tag .sheet{margin:.4rem 0}
@media print{@page{size:4in 6in;margin:4mm}main.tag{border:0;margin:0;max-width:none}
.tag h1{font-size:17pt}.tag header p{font-size:10pt;margin:.1rem 0}.tag table{font-size:9pt}.tag th,.tag td{padding:.12rem .25rem}
.tag table:has(tbody tr:nth-child(2)){font-size:7.6pt;line-height:1.15}.tag table:has(tbody tr:nth-child(2)) :is(th,td){padding:.06rem .2rem}
.tag .note{font-size:8.2pt;line-height:1.22;margin:.22rem 0}
main.tag.close{font-family:Times New Roman,Times,Liberation Serif,serif}.tag.close h1{font-size:14pt}.tag.close header p{font-size:9pt}
.tag.close .note{font-size:6.8pt;line-height:1.14;margin:.09rem 0}main.tag.close .sheet{margin:.1rem 0}
main.tag.close .sheet table{font-size:7pt;line-height:1.1}main.tag.close .sheet :is(th,td){padding:.03rem .2rem}}
";
