//! Gears in mesh where the timing is set: which meets which, at which mark, sized by their teeth.

use benchleaf::model::Phase;
use benchleaf::sheet::{Block, Drawing, Figure, Shape, ShapesDrawing, StepLine};
use benchleaf::{Memory, PacketOptions, Request, Workshop};

use super::view;

const FAMILY: &str = "family mill \"Mill\" { origin \"invented\"  invented }\n\
    part crank_gear \"Crank gear\" { teeth 28 }\n\
    part idler_gear \"Idler gear\" {\n\
        teeth 35  meshes crank_gear at \"A\"  meshes cam_gear at \"B\"  meshes pump_gear at \"C\"\n\
    }\n\
    part cam_gear \"Cam gear\" { teeth 56 }\n\
    part pump_gear \"Pump gear\" { teeth 56 }\n\
    look marks_meet \"Timing marks\" {\n\
        marks of crank_gear, idler_gear, cam_gear, pump_gear  by \"letter against letter\"  results meet, off\n\
    }\n\
    strip gears_off \"Gears off\" { take idler_gear  take cam_gear  take pump_gear  take crank_gear }\n\
    build gears_on \"Gears on\" {\n\
        fit crank_gear  fit cam_gear  fit pump_gear  fit idler_gear\n\
        look marks_meet\n\
    }\n";

/// The figures of shapes in a build.
fn drawn(text: &str) -> Vec<(Figure, ShapesDrawing)> {
    let mut workshop = Workshop::over(Memory::new().with("mill.rebuild", text));
    let view = view(&mut workshop, &Request::of("mill.rebuild"));
    let packet = view.packet(&workshop, &PacketOptions::of(Phase::Build));
    let blocks = packet.sheets.into_iter().flat_map(|sheet| sheet.blocks);
    let lines = blocks.filter_map(|block| match block {
        Block::Step(step) => Some(step.lines),
        _ => None,
    });
    let figures = lines.flatten().filter_map(|line| match line {
        StepLine::Figure(figure) => match figure.drawing.clone() {
            Drawing::Shapes(shapes) => Some((figure, shapes)),
            _ => None,
        },
        _ => None,
    });
    figures.collect()
}

/// Middles and radii, in the order of the numbers in them.
fn circles(shapes: &ShapesDrawing) -> Vec<((f64, f64), f64)> {
    let circle = |shape: &Shape| match shape {
        Shape::Circle { middle, radius, .. } => Some((*middle, *radius)),
        _ => None,
    };
    shapes.shapes.iter().filter_map(circle).collect()
}

fn words(shapes: &ShapesDrawing) -> Vec<(&str, (f64, f64))> {
    shapes.shapes.iter().filter_map(read).collect()
}

fn read(shape: &Shape) -> Option<(&str, (f64, f64))> {
    match shape {
        Shape::Words { words, at, .. } => Some((words, *at)),
        _ => None,
    }
}

fn far(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

#[test]
fn gears_that_meet_touch_and_have_their_mark_beside_it() {
    let drawn = drawn(FAMILY);
    let [(figure, shapes)] = drawn.as_slice() else { panic!("{} figures", drawn.len()) };
    assert_eq!(
        figure.alternative,
        "Gears in mesh: crank gear (28 teeth) meets idler gear (35 teeth) at A; idler gear (35 teeth) meets cam gear \
         (56 teeth) at B; idler gear (35 teeth) meets pump gear (56 teeth) at C."
    );
    let caption = figure.caption.words();
    assert!(caption.contains("1 crank gear (28 teeth), 2 idler gear (35 teeth), 3 cam gear"), "{caption}");
    assert!(caption.contains("Sized by their teeth"), "{caption}");
    let circles = circles(shapes);
    assert_eq!(circles.len(), 4);
    for ((_, radius), teeth) in circles.iter().zip([28.0, 35.0, 56.0, 56.0]) {
        assert!((radius / circles[0].1 - teeth / 28.0).abs() < 1e-9, "{radius} for {teeth} teeth");
    }
    for (mark, other) in [("A", 0), ("B", 2), ("C", 3)] {
        let (idler, gear) = (circles[1], circles[other]);
        assert!((far(idler.0, gear.0) - idler.1 - gear.1).abs() < 1e-9, "{mark}: they touch");
        let (_, at) = words(shapes).into_iter().find(|(words, _)| *words == mark).unwrap();
        // Nearer to both of its gears than to any other, and on none.
        let gap = |((x, y), radius): ((f64, f64), f64)| far((x, y), at) - radius;
        let nearest = |gear| (0..4).filter(|at| ![1, other].contains(at)).all(|at| gap(circles[at]) > gear);
        assert!(gap(idler) > 0.0 && gap(gear) > 0.0, "{mark} stands on a gear");
        assert!(nearest(gap(idler)) && nearest(gap(gear)), "{mark}");
        assert!(gap(idler) < 6.0 && gap(gear) < 6.0, "{mark}");
    }
    let apart =
        (0..4).flat_map(|a| (0..a).map(move |b| (a, b))).filter(|pair| !matches!(pair, (1, _) | (_, 1)));
    for (a, b) in apart {
        assert!(far(circles[a].0, circles[b].0) > circles[a].1 + circles[b].1, "{a} and {b} don't meet");
    }
}

#[test]
fn without_all_counts_of_teeth_nothing_is_to_scale() {
    let drawn = drawn(&FAMILY.replace("\"Cam gear\" { teeth 56 }", "\"Cam gear\""));
    let [(figure, shapes)] = drawn.as_slice() else { panic!("{} figures", drawn.len()) };
    assert!(figure.caption.words().contains("Not to scale"), "{}", figure.caption.words());
    assert!(!figure.caption.words().contains("cam gear ("), "{}", figure.caption.words());
    let circles = circles(shapes);
    assert!(circles.iter().all(|(_, radius)| *radius == circles[0].1), "{circles:?}");
}

#[test]
fn gears_that_nobody_says_run_in_each_other_are_not_drawn() {
    let text = FAMILY
        .replace("meshes crank_gear at \"A\"", "")
        .replace("meshes cam_gear at \"B\"", "")
        .replace("meshes pump_gear at \"C\"", "");
    assert_eq!(drawn(&text).len(), 0);
    // Nor a ring of them, which no row of circles shows.
    let ring =
        FAMILY.replace("\"Cam gear\" { teeth 56 }", "\"Cam gear\" { teeth 56  meshes crank_gear at \"D\" }");
    assert_eq!(drawn(&ring).len(), 0);
}
