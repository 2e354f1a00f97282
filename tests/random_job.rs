//! Jobs drawn at random, from a fixed seed, for the tests that hold outputs against each other. Procedures and records are
//! invented.

pub const PUMP: &str = "procedures/first/harbour_pump.rebuild";
const STRIP: [&str; 10] = [
    "drain_hoses",
    "hoses_off",
    "belt_off",
    "pump_off",
    "cover_off",
    "impeller_out",
    "pulley_off",
    "ring_out",
    "shaft_out",
    "seal_out",
];

/// Numbers that look like chance and are the same each time: a linear congruence with Knuth's constants for 64 bits, from
/// memory.
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % end
    }

    pub fn one_in(&mut self, end: u64) -> bool {
        self.below(end) == 0
    }
}

/// A record of what may be: steps done, looks, notes, lengths, orders.
pub fn record(dice: &mut Dice) -> String {
    let mut text = "job: \"1\"\nprocedure: harbour_pump.rebuild\n".to_owned();
    let done = [0, 4, 9, 10][dice.below(4) as usize];
    text += "done:\n";
    for step in &STRIP[..done] {
        text += &format!("  {step}: {{by: JS, date: 2026-03-05}}\n");
    }
    if done == 9 && dice.one_in(2) {
        text += "not_done:\n  seal_out: {because: it fell out, by: JS}\n";
    }
    text += "looks:\n  as_found:\n";
    for (look, bad) in [("cover_score", "scored"), ("shaft_track", "grooved")] {
        match dice.below(3) {
            0 => text += &format!("    {look}: smooth\n"),
            1 => text += &format!("    {look}: {bad}\n"),
            _ => {}
        }
    }
    text += "notes:\n  - {about: engine, says: as it is}\n";
    for (thing, count) in [("cover_screws", 4), ("foot_bolts", 3), ("hoses", 2)] {
        if dice.one_in(2) {
            text += &format!("  - {{about: {thing}, found: {{count: {}}}}}\n", dice.below(count + 1));
        }
    }
    if dice.one_in(3) {
        text += "  - {about: cover_screws B, found: {condition: sheared}}\n";
        if dice.one_in(2) {
            text += "settled:\n  cover_screws B: {renew: drilled out}\n";
        }
    }
    if dice.one_in(2) {
        text += "orders:\n  belt: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        if dice.one_in(2) {
            text += "  cover_screws: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        }
    }
    text
}

/// A block with two cylinders, all of it invented: readings with sizes, what goes in by place, fasteners with lengths.
pub const ENGINE: &str = "family twin \"Twin\" { edition 1  origin \"invented for tests\"  called \"engine\" }
axis cyl = 1 .. 2
section top \"Top\"
part head \"Head\" { held by head_bolts  fate by flatness }
part gasket \"Gasket\" { kind gasket  under head  fate renew }
part piston[cyl] \"Piston\" { under head, gasket  worn in  select from \"standard, 0.25 mm over, 0.50 mm over\"
    fate renew when wear = bore, else by skirt_look }
part rings[cyl] \"Ring set\" { within piston  sized with piston  fate renew }
part block \"Block\" { under head, gasket, piston  fate send \"bore\" when wear = bore, renew when wear = scrap, else reuse }
fasteners head_bolts 4 \"Head bolt\" { thread M8x1.25  length 40 mm  reusable  tighten by feel }
gauge bore[cyl] \"Bore\" { of block  unit mm  made 80.00 mm .. 80.02 mm from \"invented\"  worn 80.10 mm from \"invented\"
    instrument \"bore gauge\" resolution 0.001 mm  sizes 0.25 mm, 0.50 mm allowance 0.02 mm from \"invented\" }
gauge skirt[cyl] \"Skirt\" { of piston[cyl]  unit mm  made 79.94 mm .. 79.96 mm from \"invented\" }
gauge play[cyl] \"Play\" { of piston[cyl]  is bore[cyl] - skirt[cyl]  made 0.04 mm .. 0.08 mm from \"invented\" }
gauge wear \"Wear\" { of block  is max(bore) - 80.00 mm
    bands keep 0 mm .. 0.10 mm, bore 0.10 mm .. 0.45 mm, scrap above 0.45 mm from \"invented\" }
gauge flatness \"Flatness\" { of head  unit mm  instrument \"straight edge\" resolution 0.01 mm
    bands good 0 mm .. 0.08 mm, skim 0.08 mm .. 0.20 mm, renew above 0.20 mm from \"invented\" }
look skirt_look[cyl] \"Skirt\" { of piston[cyl]  results good, scored }
strip head_off \"Head off\" { undo head_bolts  take head  take gasket  gauge flatness }
strip pistons_out \"Piston out\" { each cyl together  take piston  take rings }
strip block_down \"Block down\" { take block }
survey measure \"Measure\" { gauge bore, skirt  look skirt_look }
survey send_head \"Send the head out\" { when flatness = skim  after measure  send head }
survey head_back \"Head back\" { when flatness = skim  receive head  gauge flatness  accept head }
survey send_block \"Send the block out\" { when wear = bore  after measure  send block }
survey block_back \"Block back\" { when wear = bore  receive block  gauge bore  accept block }
";

/// A record of the twin: what it is bored to already, readings about it, lengths, counts, a step half done or out of order,
/// extra work, goods.
pub fn record_of_the_twin(dice: &mut Dice) -> String {
    let mut text = "job: \"1\"\nprocedure: twin.rebuild\n".to_owned();
    let present = [0.0, 0.25][dice.below(2) as usize];
    // Of some that were bored before nobody has said so.
    if present > 0.0 && !dice.one_in(4) {
        text += "present: {bore: 0.25 mm}\n";
    }
    text += "readings:\n  as_found:\n";
    for cyl in 1..=2 {
        let bore = 80.0 + present + [0.015, 0.06, 0.16][dice.below(3) as usize];
        text +=
            &format!("    \"bore[{cyl}]\": {bore:.3} mm\n    \"skirt[{cyl}]\": {:.3} mm\n", 79.95 + present);
    }
    text += &format!("    flatness: {} mm\n", ["0.02", "0.12", "0.30"][dice.below(3) as usize]);
    text += "looks:\n  as_found:\n";
    for cyl in 1..=2 {
        let look = if dice.one_in(3) { "scored" } else { "good" };
        text += &format!("    \"skirt_look[{cyl}]\": {look}\n");
    }
    match dice.below(4) {
        0 => {}
        1 => {
            text += "done:\n  head_off: {by: HK, date: 2026-03-05}\n  \"pistons_out[2]\": {by: HK, date: 2026-03-05}\n";
        }
        2 => text += "done:\n  pistons_out: {by: HK, date: 2026-03-05, out_of_order: no head on it}\n",
        _ => {
            text +=
                "done:\n  head_off: {by: HK, date: 2026-03-05}\n  pistons_out: {by: HK, date: 2026-03-05}\n";
        }
    }
    text += "notes:\n  - {about: engine, says: as it is}\n";
    if dice.one_in(2) {
        text += &format!("  - {{about: head_bolts, found: {{count: {}}}}}\n", dice.below(5));
    }
    if dice.one_in(3) {
        text += "  - {about: \"piston[2]\", found: {came: without}}\n";
    }
    if dice.one_in(2) {
        text += "lengths:\n  head_bolts: {B: 45 mm}\n";
    }
    if dice.one_in(2) {
        text += "extra:\n  parts: {insert: {title: M8 insert, count: 2}}\n  steps:\n    fit_insert: {title: Fit an insert, \
                 after: fit:gasket, do: [Wind it in.], parts: [insert]}\n";
    }
    if dice.one_in(2) {
        text += "orders:\n  gasket: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        if dice.one_in(2) {
            text += "  insert: {ordered: 2026-03-05, arrived: 2026-03-06}\n";
        }
    }
    // What is named must be there.
    if text.contains("extra:") {
        text
    } else {
        text.replace("  insert: {ordered: 2026-03-05, arrived: 2026-03-06}\n", "")
    }
}

/// The twin with more head bolts and a washer under them, by what differs alone.
pub const VARIANT: &str = "family twin_e \"Twin E\" { of \"twin.rebuild\" at edition 1  edition 1 }
part washer \"Washer\" { under head  fate renew }
change fasteners head_bolts 6 { tighten 20 N.m from \"invented\" }
change strip head_off { ahead of take gasket { take washer } }
";

/// What one job has otherwise.
pub const OWN: &str = "change strip block_down { behind take block { do \"Keep its plug.\" } }\n";

/// A job with all of its files: the record last. Each third is of the pump, of the twin, and of the twin by what differs, of which
/// some change their procedure once more.
pub fn files(dice: &mut Dice) -> Vec<(&'static str, String)> {
    let twin = || ("twin.rebuild", ENGINE.to_owned());
    match dice.below(3) {
        0 => {
            let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(PUMP);
            let pump = std::fs::read_to_string(path).unwrap();
            vec![("harbour_pump.rebuild", pump), ("job.yaml", record(dice))]
        }
        1 => vec![twin(), ("job.yaml", record_of_the_twin(dice))],
        _ => {
            let mut record = record_of_the_twin(dice).replace("twin.rebuild", "twin_e.rebuild");
            if dice.one_in(2) {
                record += "changes: own.rebuild\n";
            }
            vec![
                twin(),
                ("twin_e.rebuild", VARIANT.to_owned()),
                ("own.rebuild", OWN.to_owned()),
                ("job.yaml", record),
            ]
        }
    }
}
