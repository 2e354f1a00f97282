//! Each kind of thing as it stands with every clause left out: the defaults of the language in one place.

use super::model::*;

pub(super) fn family(naming: Naming) -> Family {
    Family {
        naming,
        edition: None,
        summary: None,
        origin: None,
        identify: Vec::new(),
        invented: false,
        number_one: None,
        turns: None,
        sides_seen_from: None,
        ends: None,
        called: None,
        cycle: None,
        firing_intervals: Vec::new(),
        firing_order: Vec::new(),
        key_data: Vec::new(),
        lifting_limit: None,
    }
}

pub(super) fn axis(naming: Naming) -> Axis {
    Axis { naming, positions: Vec::new(), groupings: Vec::new() }
}

pub(super) fn ask(naming: Naming) -> Ask {
    Ask { naming, answers: Vec::new() }
}

pub(super) fn setup(naming: Naming) -> Setup {
    Setup {
        naming,
        values: Vec::new(),
        uppermost: Vec::new(),
        each_person: false,
        at_first: 0,
        change: None,
        hazard: None,
    }
}

pub(super) fn state(naming: Naming) -> State {
    let start_span = naming.span;
    State { naming, values: Vec::new(), at_first: 0, at_build: None, hazards: Vec::new(), start_span }
}

pub(super) fn tool(naming: Naming) -> Tool {
    Tool {
        naming,
        kind: ToolKind::Other,
        drive: None,
        size: None,
        range: None,
        hazards: Vec::new(),
        special: false,
        stand_ins: Vec::new(),
    }
}

pub(super) fn supply(naming: Naming) -> Supply {
    Supply { naming, hazards: Vec::new(), quantity: None, open_time: None, cure_time: None }
}

pub(super) fn part(naming: Naming) -> Part {
    Part {
        naming,
        axes: Vec::new().into(),
        count: Cases::default(),
        kind: None,
        carries: Seldom::new(),
        handling: Handling::default(),
        under: Vec::new().into(),
        held_by: Vec::new().into(),
        within: None,
        sealed_by: Seldom::new(),
        harmless: false,
        mass: None,
        lift_at: None,
        falls: Seldom::new(),
        present: Seldom::new(),
        worn_in: false,
        way: Cases::default(),
        marks: Seldom::new(),
        matched_with: Seldom::new(),
        sized_with: Seldom::new(),
        sized_by: Seldom::new(),
        select_from: None,
        releases: Seldom::new(),
        turned_by_hand: false,
        turning_words: None,
        teeth: None,
        meshes: Seldom::new(),
        critical: false,
        crack_test: None,
        fate: None,
        catalogue: Cases::default(),
        price: None,
        supplier: None,
    }
}

pub(super) fn set(naming: Naming) -> FastenerSet {
    FastenerSet {
        naming,
        axes: Vec::new().into(),
        count: Cases::default(),
        kind: FastenerKind::Bolt,
        handling: Handling::default(),
        thread: None,
        diameter: None,
        class: None,
        drive: None,
        lengths: Cases::default(),
        stays: false,
        engagement: None,
        stand_out: None,
        blind: false,
        to_water: false,
        to_oil: false,
        into: None,
        left_hand: false,
        captive: false,
        locked_by: Seldom::new(),
        reuse: Cases::default(),
        present: Seldom::new(),
        under: Vec::new().into(),
        oil: None,
        dry: false,
        apply: Seldom::new(),
        soft: false,
        drag: None,
        critical: false,
        friction: None,
        then: Vec::new().into(),
        tightening: Cases::default(),
        catalogue: Cases::default(),
        price: None,
    }
}

pub(super) fn joint(naming: Naming) -> Joint {
    Joint {
        naming,
        axes: Vec::new().into(),
        clamps: Vec::new(),
        seen: Cases::default(),
        members: Vec::new(),
        gasket: None,
        tighten_sequence: None,
        undo_sequence: None,
        pass_by_pass: false,
        critical: false,
        friction: None,
        then: Vec::new().into(),
    }
}

pub(super) fn gauge(naming: Naming) -> Gauge {
    Gauge {
        naming,
        axes: Vec::new().into(),
        of: None,
        unit: None,
        dimension: None,
        difference: false,
        stations: Vec::new(),
        directions: Vec::new(),
        made: Cases::default(),
        worn: Cases::default(),
        plausible: None,
        instrument: None,
        error: None,
        taken_off: None,
        needs: Vec::new(),
        formula: None,
        bands: Vec::new(),
        edges: Cases::default(),
        sold: None,
        best_at_nought: false,
        noted_only: false,
        sizes: None,
        old_centre: false,
    }
}

pub(super) fn look(naming: Naming) -> Look {
    Look {
        naming,
        axes: Vec::new().into(),
        of: None,
        marks_of: Vec::new(),
        results: Vec::new(),
        by: None,
        taken_off: None,
        needs: Vec::new(),
    }
}

pub(super) fn temporary(naming: Naming) -> Temporary {
    Temporary { naming, axes: Vec::new().into(), count: Cases::default(), into: None, may_stay: false }
}

pub(super) fn hazard(naming: Naming) -> Hazard {
    Hazard {
        naming,
        signal: Signal::Warning,
        kind: HazardKind::Damage,
        hazard: String::new(),
        consequence: String::new(),
        avoidance: String::new(),
        wear: Vec::new(),
    }
}

pub(super) fn rule(naming: Naming) -> Rule {
    Rule { naming, orders: Vec::new(), joints: Vec::new(), exceptions: Vec::new() }
}
