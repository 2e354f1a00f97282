//! Choosing a shim, washer or shell from graded pieces.

/// What was chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// Index of the piece.
    pub piece: usize,
    /// What is left with it in place: the play.
    pub left: f64,
}

/// The piece of which `room` leaves a play nearest to the middle of `least` to `most`; none if no piece leaves a
/// play within them. Equal distance goes to the thinner piece, which leaves more play.
pub fn graded(room: f64, pieces: &[f64], least: f64, most: f64) -> Option<Choice> {
    let middle = f64::midpoint(least, most);
    // The sum of decimal sizes is off by a few units in the last place of a float.
    let slack = 1e-9 * room.abs();
    pieces
        .iter()
        .enumerate()
        .map(|(piece, size)| Choice { piece, left: room - size })
        .filter(|choice| choice.left >= least - slack && choice.left <= most + slack)
        .min_by(|a, b| {
            let distance = |choice: &Choice| (choice.left - middle).abs();
            distance(a).total_cmp(&distance(b)).then(b.left.total_cmp(&a.left))
        })
}
