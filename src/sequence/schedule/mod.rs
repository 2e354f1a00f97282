//! Several hands at once: tasks with precedence, shared resources and shared states to start times and a span
//! (resource-constrained project scheduling).
//!
//! Tasks are taken in an order and each is put at the earliest time that everything allows (serial schedule
//! generation, Kelley 1963); the schedule is then pushed late and early again (forward-backward improvement, Li and
//! Willis 1992), and the order is varied by annealing with a fixed seed. Times are whole units.

mod calendar;

use super::acyclic::Acyclic;
use super::random::{Random, chance};
use super::search::Effort;
use calendar::{Lane, Usage};

/// One task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// How long it takes; a wait that needs no hands is a task with a duration and no needs.
    pub duration: u64,
    /// How many of each resource it holds while it lasts.
    pub needs: Vec<u32>,
    /// For each shared state, the value it must have while the task lasts, or nothing if any will do.
    pub states: Vec<Option<usize>>,
    /// Conditions that it changes: meanwhile no other task that changes or relies on one of them may last.
    pub sets: Vec<usize>,
    /// Conditions that it relies on.
    pub relies: Vec<usize>,
}

/// Tasks to be done by several hands.
#[derive(Clone, Debug)]
pub struct Job {
    /// Which task must be over before which begins.
    pub graph: Acyclic,
    /// A task for each node.
    pub tasks: Vec<Task>,
    /// How many there are of each resource.
    pub capacity: Vec<u32>,
    /// For each shared state, how long a change of its value takes; meanwhile no task that demands a value of it lasts.
    pub change: Vec<u64>,
}

/// Start times, and what is known about them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// When each task begins; the first at 0.
    pub start: Vec<u64>,
    /// When the last task is over.
    pub span: u64,
    /// No schedule is shorter.
    pub bound: u64,
    /// Whether the bound is reached.
    pub proved: bool,
    /// Units of work spent.
    pub work: u64,
}

impl Job {
    /// Why the start times can't stand, as the two tasks or the task and itself that are at fault; nothing if they can.
    pub fn conflict(&self, start: &[u64]) -> Option<(usize, usize)> {
        let end = |task: usize| start[task] + self.tasks[task].duration;
        if let Some(&edge) = self.graph.graph().edges().iter().find(|&&(x, y)| end(x) > start[y]) {
            return Some(edge);
        }
        let tasks = 0..self.tasks.len();
        let pairs = tasks.clone().flat_map(|x| (x + 1..self.tasks.len()).map(move |y| (x, y)));
        for (x, y) in pairs {
            let gap = self.gap(x, y);
            if gap.is_some_and(|gap| start[y] < end(x) + gap && start[x] < end(y) + gap) {
                return Some((x, y));
            }
        }
        // The use of a resource is highest where some task begins.
        for x in tasks.clone().filter(|&x| self.tasks[x].duration > 0) {
            for (resource, &capacity) in self.capacity.iter().enumerate() {
                let running = tasks.clone().filter(|&y| start[y] <= start[x] && start[x] < end(y));
                let used: u64 = running.map(|y| u64::from(self.tasks[y].needs[resource])).sum();
                if used > u64::from(capacity) {
                    return Some((x, x));
                }
            }
        }
        None
    }

    /// How long must pass between the two tasks, whichever is first, if they must not overlap at all.
    fn gap(&self, x: usize, y: usize) -> Option<u64> {
        let states = self.tasks[x].states.iter().zip(&self.tasks[y].states).zip(&self.change);
        let changes = states.filter_map(|((x, y), &change)| {
            let differ = x.is_some() && y.is_some() && x != y;
            differ.then_some(change)
        });
        let clash =
            |a: &Task, b: &Task| a.sets.iter().any(|own| b.sets.contains(own) || b.relies.contains(own));
        let (x, y) = (&self.tasks[x], &self.tasks[y]);
        changes.max().or((clash(x, y) || clash(y, x)).then_some(0))
    }

    /// Whether some order of the tasks can be scheduled at all: no task needs more than there is.
    pub fn impossible_task(&self) -> Option<usize> {
        let too_much =
            |task: &Task| task.needs.iter().zip(&self.capacity).any(|(need, capacity)| need > capacity);
        self.tasks.iter().position(too_much)
    }
}

/// The tasks with what is taken while they are placed.
struct Scheduler<'a> {
    job: &'a Job,
    /// For each task, the resources it needs.
    needs: Vec<Vec<(usize, u32)>>,
    /// For each task, the lanes it keeps and the value it keeps them at.
    keeps: Vec<Vec<(usize, usize)>>,
    usage: Vec<Usage>,
    lanes: Vec<Lane>,
    work: u64,
}

/// What a condition's lane has while tasks only rely on it; each task that changes it has a value of its own.
const RELIED_ON: usize = 0;

impl Scheduler<'_> {
    fn new(job: &Job) -> Scheduler<'_> {
        let needs = |task: &Task| {
            let needs = task.needs.iter().copied().enumerate();
            needs.filter(|&(_, need)| need > 0 && task.duration > 0).collect()
        };
        // Lanes for the states first, then those for the conditions.
        let states = job.change.len();
        let conditions = job
            .tasks
            .iter()
            .flat_map(|task| task.sets.iter().chain(&task.relies))
            .max()
            .map_or(0, |last| last + 1);
        let keeps = |(index, task): (usize, &Task)| {
            let states = task.states.iter().enumerate().filter_map(|(lane, value)| Some((lane, (*value)?)));
            let sets = task.sets.iter().map(|condition| (job.change.len() + condition, index + 1));
            let relies = task.relies.iter().filter(|condition| !task.sets.contains(condition));
            let relies = relies.map(|condition| (job.change.len() + condition, RELIED_ON));
            states.chain(sets).chain(relies).collect()
        };
        Scheduler {
            job,
            needs: job.tasks.iter().map(needs).collect(),
            keeps: job.tasks.iter().enumerate().map(keeps).collect(),
            usage: job.capacity.iter().map(|&capacity| Usage::new(capacity)).collect(),
            lanes: (0..states + conditions)
                .map(|lane| Lane::new(job.change.get(lane).copied().unwrap_or(0)))
                .collect(),
            work: 0,
        }
    }

    /// Puts each task at its earliest, in the given order, which keeps precedence; with `late`, time runs backwards
    /// and the times are counted from the end.
    fn place(&mut self, order: &[usize], late: bool) -> (Vec<u64>, u64) {
        let tasks = &self.job.tasks;
        let graph = self.job.graph.graph();
        let mut start = vec![0; tasks.len()];
        let mut span = 0;
        self.usage.iter_mut().for_each(Usage::clear);
        self.lanes.iter_mut().for_each(Lane::clear);
        for &task in order {
            let earlier = if late { graph.successors(task) } else { graph.predecessors(task) };
            let duration = tasks[task].duration;
            let mut at = earlier.iter().map(|&other| start[other] + tasks[other].duration).max().unwrap_or(0);
            let work = &mut self.work;
            *work += 1;
            // Until nothing puts it off any more.
            loop {
                let asked = at;
                for &(lane, value) in &self.keeps[task] {
                    at = self.lanes[lane].earliest(at, duration, value, work);
                }
                for &(resource, need) in &self.needs[task] {
                    at = self.usage[resource].earliest(at, duration, need, work);
                }
                if at == asked {
                    break;
                }
            }
            start[task] = at;
            let end = at + duration;
            span = span.max(end);
            for &(lane, value) in &self.keeps[task] {
                self.lanes[lane].take(at, end, value);
            }
            for &(resource, need) in &self.needs[task] {
                self.usage[resource].take(at, end, need);
            }
        }
        (start, span)
    }

    /// The schedule of an order after pushing it late and early again as long as that shortens it, and its order.
    fn improve(&mut self, order: &[usize]) -> (Vec<usize>, Vec<u64>, u64) {
        let tasks = &self.job.tasks;
        let (mut start, mut span) = self.place(order, false);
        let mut order = order.to_vec();
        loop {
            // Latest end first: an order that keeps precedence backwards. Ties by place, since a task of no duration
            // may end where its forerunner does.
            let mut place = vec![0; order.len()];
            for (at, &task) in order.iter().enumerate() {
                place[task] = at;
            }
            order.sort_by_key(|&task| std::cmp::Reverse((start[task] + tasks[task].duration, place[task])));
            let (from_end, _) = self.place(&order, true);
            for (at, &task) in order.iter().enumerate() {
                place[task] = at;
            }
            // Earliest begin first, that is largest distance of the begin from the end.
            order
                .sort_by_key(|&task| std::cmp::Reverse((from_end[task] + tasks[task].duration, place[task])));
            let (new_start, new_span) = self.place(&order, false);
            let better = new_span < span;
            (start, span) = (new_start, new_span);
            if !better {
                return (order, start, span);
            }
        }
    }

    /// The longest chain, and for each resource its use spread evenly.
    fn bound(&self) -> u64 {
        let job = self.job;
        let mut over = vec![0; job.tasks.len()];
        for &task in job.graph.order() {
            let before =
                job.graph.graph().predecessors(task).iter().map(|&other| over[other]).max().unwrap_or(0);
            over[task] = before + job.tasks[task].duration;
        }
        let chain = over.iter().copied().max().unwrap_or(0);
        let spread = job.capacity.iter().enumerate().filter(|&(_, &capacity)| capacity > 0).map(
            |(resource, &capacity)| {
                let use_of = |task: &Task| task.duration * u64::from(task.needs[resource]);
                job.tasks.iter().map(use_of).sum::<u64>().div_ceil(u64::from(capacity))
            },
        );
        spread.max().unwrap_or(0).max(chain)
    }
}

/// The shortest schedule that `effort` finds, starting from `first`, an order that keeps precedence (usually the best
/// order for one person).
///
/// # Errors
/// A task that needs more of a resource than there is.
///
/// # Panics
/// If a task's lists don't match the job's resources and states.
///
/// ```
/// use benchleaf::schedule::{Job, Task, best_schedule};
/// use benchleaf::search::Effort;
/// use benchleaf::{Acyclic, Precedence};
///
/// let task = |duration| Task {
///     duration,
///     needs: vec![1],
///     states: Vec::new(),
///     sets: Vec::new(),
///     relies: Vec::new(),
/// };
/// let graph = Acyclic::new(Precedence::new(3, [])).expect("it holds no circle");
/// let job = Job { graph, tasks: vec![task(3), task(2), task(1)], capacity: vec![2], change: Vec::new() };
/// let best = best_schedule(&job, &[0, 1, 2], Effort::default()).expect("no task needs more than there is");
/// assert_eq!(best.span, 3);
/// assert_eq!(job.conflict(&best.start), None);
/// ```
pub fn best_schedule(job: &Job, first: &[usize], effort: Effort) -> Result<Schedule, usize> {
    assert!(
        job.tasks.len() == job.graph.nodes() && job.graph.allows(first),
        "a task a node, in an allowed order"
    );
    let matches =
        |task: &Task| task.needs.len() == job.capacity.len() && task.states.len() == job.change.len();
    assert!(job.tasks.iter().all(matches), "one entry a resource and a shared state");
    if let Some(task) = job.impossible_task() {
        return Err(task);
    }
    let count = job.tasks.len();
    let mut scheduler = Scheduler::new(job);
    let bound = scheduler.bound();
    let mut random = Random::new(effort.seed);
    let (mut order, mut best_start, mut best_span) = scheduler.improve(first);
    let mut span = best_span;
    while best_span > bound && scheduler.work < effort.work && count > 1 {
        let mut varied = order.clone();
        for _ in 0..1 + random.below(4) {
            move_one(job, &mut varied, &mut random);
        }
        let (new_order, start, new_span) = scheduler.improve(&varied);
        let left = 1.0 - scheduler.work as f64 / effort.work as f64;
        let worse = new_span as f64 - span as f64;
        let heat = 0.01 * best_span as f64 * left.max(0.0);
        if worse <= 0.0 || random.unit() < chance(worse / heat) {
            (order, span) = (new_order, new_span);
        }
        if new_span < best_span {
            (best_start, best_span) = (start, new_span);
        }
    }
    let proved = best_span == bound;
    Ok(Schedule { start: best_start, span: best_span, bound, proved, work: scheduler.work })
}

/// Takes one task out and puts it elsewhere between its forerunners and followers.
fn move_one(job: &Job, order: &mut [usize], random: &mut Random) {
    let from = random.below(order.len());
    let graph = job.graph.graph();
    let task = order[from];
    let low = order[..from]
        .iter()
        .rposition(|other| graph.predecessors(task).contains(other))
        .map_or(0, |at| at + 1);
    let high = order[from + 1..].iter().position(|other| graph.successors(task).contains(other));
    let high = high.map_or(order.len(), |at| from + 1 + at);
    let to = low + random.below(high - low);
    if to < from {
        order[to..=from].rotate_right(1);
    } else {
        order[from..=to].rotate_left(1);
    }
}
