//! What a factorization needs to know before it sees a value: once for each mesh.

use std::sync::Arc;

use super::Pattern;
use super::ordering::{Ordering, ROOT, order};
use super::supernodes::{Supernode, supernodes};

/// The symbolic analysis of a pattern: order of elimination, supernodes and where every number goes. Cheap to clone.
#[derive(Clone, Debug)]
pub struct Symbolic {
    pub(super) plan: Arc<Plan>,
}

impl Symbolic {
    /// Analyzes a pattern.
    pub fn new(pattern: &Pattern) -> Symbolic {
        Symbolic {
            plan: Arc::new(plan(pattern)),
        }
    }

    /// How many unknowns the matrix has.
    pub fn unknowns(&self) -> usize {
        self.plan.place.len()
    }

    /// How many numbers the factor stores.
    pub fn stored(&self) -> usize {
        self.plan.stored
    }

    /// How many multiplications a factorization takes, roughly.
    pub fn multiplications(&self) -> f64 {
        let cost = |front: &Front| {
            let (w, h) = (front.width as f64, front.height as f64);
            w * h * h - w * w * h + w * w * w / 3.0
        };
        0.5 * self.plan.fronts.iter().map(cost).sum::<f64>()
    }
}

#[derive(Debug)]
pub struct Plan {
    /// Place in the elimination of each unknown.
    pub place: Vec<u32>,
    /// Id of the diagonal pair of each place.
    pub diagonal: Vec<u32>,
    /// The supernodes, children before parents.
    pub fronts: Vec<Front>,
    /// Numbers stored in the factor.
    pub stored: usize,
    /// The tallest block of rows below a supernode.
    pub tallest_below: usize,
}

/// A supernode in the factorization: a panel of `width` columns and `height` rows, lower part of a square on top.
#[derive(Debug)]
pub struct Front {
    /// Its first column, in places.
    pub first: usize,
    pub width: usize,
    pub height: usize,
    /// Where its panel begins in the factor.
    pub offset: usize,
    /// Its rows below the square, in places, ascending.
    pub below: Vec<u32>,
    /// Supernodes whose updates it takes in.
    pub children: Vec<u32>,
    /// Place of each of `below` among the rows of the parent's panel.
    pub in_parent: Vec<u32>,
    /// (id of a pair, where in the panel its value goes).
    pub sources: Vec<(u32, u32)>,
}

fn plan(pattern: &Pattern) -> Plan {
    let ordering = order(pattern);
    let nodes = supernodes(&ordering);
    let owner = owners(&nodes, ordering.place.len());
    let mut fronts = lay_out(&nodes);
    link(&mut fronts, &ordering, &owner);
    fill_rows(&mut fronts, &later_neighbors(&ordering));
    fill_places(&mut fronts, &owner, pattern, &ordering.place);
    let mut diagonal = vec![0; ordering.place.len()];
    for (unknown, &place) in ordering.place.iter().enumerate() {
        diagonal[place as usize] = pattern.diagonal(unknown) as u32;
    }
    Plan {
        stored: fronts.iter().map(|f| f.width * f.height).sum(),
        tallest_below: fronts.iter().map(|f| f.below.len()).max().unwrap_or(0),
        place: ordering.place,
        diagonal,
        fronts,
    }
}

/// The supernode of each column.
fn owners(nodes: &[Supernode], unknowns: usize) -> Vec<u32> {
    let mut owner = vec![0; unknowns];
    for (number, node) in nodes.iter().enumerate() {
        owner[node.first..node.last].fill(number as u32);
    }
    owner
}

fn lay_out(nodes: &[Supernode]) -> Vec<Front> {
    let mut offset = 0;
    let front = |node: &Supernode| {
        let begin = offset;
        offset += node.width() * node.height;
        Front {
            first: node.first,
            width: node.width(),
            height: node.height,
            offset: begin,
            below: Vec::new(),
            children: Vec::new(),
            in_parent: Vec::new(),
            sources: Vec::new(),
        }
    };
    nodes.iter().map(front).collect()
}

fn link(fronts: &mut [Front], ordering: &Ordering, owner: &[u32]) {
    for number in 0..fronts.len() {
        let last_column = fronts[number].first + fronts[number].width - 1;
        let above = ordering.parent[last_column];
        if above != ROOT {
            fronts[owner[above as usize] as usize]
                .children
                .push(number as u32);
        }
    }
}

/// For each place the later places that it shares a pair with.
fn later_neighbors(ordering: &Ordering) -> Vec<Vec<u32>> {
    let mut later = vec![Vec::new(); ordering.place.len()];
    for place in 0..later.len() {
        for &before in ordering.earlier.of(place) {
            later[before as usize].push(place as u32);
        }
    }
    later
}

/// Rows of a supernode: those of its columns in A and those that its children leave over.
fn fill_rows(fronts: &mut [Front], later: &[Vec<u32>]) {
    let mut seen_by = vec![ROOT; later.len()];
    for number in 0..fronts.len() {
        let (first, end) = (
            fronts[number].first,
            fronts[number].first + fronts[number].width,
        );
        let mut below = Vec::with_capacity(fronts[number].height - fronts[number].width);
        let mut add = |row: u32| {
            if row as usize >= end && seen_by[row as usize] != number as u32 {
                seen_by[row as usize] = number as u32;
                below.push(row);
            }
        };
        later[first..end].iter().flatten().for_each(|&row| add(row));
        for &child in &fronts[number].children {
            fronts[child as usize]
                .below
                .iter()
                .for_each(|&row| add(row));
        }
        below.sort_unstable();
        fronts[number].below = below;
    }
}

fn fill_places(fronts: &mut [Front], owner: &[u32], pattern: &Pattern, place: &[u32]) {
    for column in 0..place.len() {
        for (id, row) in pattern.column(column) {
            let (at, under) = (place[row].min(place[column]), place[row].max(place[column]));
            let front = &mut fronts[owner[at as usize] as usize];
            let column_in_front = at as usize - front.first;
            let target = column_in_front * front.height + row_in(front, under);
            front.sources.push((id as u32, target as u32));
        }
    }
    for number in 0..fronts.len() {
        for child in fronts[number].children.clone() {
            let parent = &fronts[number];
            let rows = fronts[child as usize]
                .below
                .iter()
                .map(|&row| row_in(parent, row) as u32);
            fronts[child as usize].in_parent = rows.collect();
        }
    }
}

/// Which row of a supernode's panel a place is.
fn row_in(front: &Front, place: u32) -> usize {
    let inside = place as usize - front.first;
    if inside < front.width {
        return inside;
    }
    front.width + front.below.partition_point(|&row| row < place)
}
