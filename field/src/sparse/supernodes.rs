//! Columns of L that share their rows, taken together so that dense kernels can work on them.

use super::ordering::{Ordering, ROOT};

/// Neighboring columns first..last that are stored with one list of rows.
#[derive(Clone, Copy, Debug)]
pub struct Supernode {
    pub first: usize,
    pub last: usize,
    /// Rows in the first column, with the diagonal.
    pub height: usize,
    /// Places that are stored though they stay zero.
    zeros: usize,
}

/// (width, share): a merged supernode of at most that many columns may store that share of zeros. The scheme is the
/// usual one of relaxed supernodes (Ashcraft & Grimes 1989); the numbers were measured on sections of pipes.
const RELAXATION: [(usize, f64); 4] = [(8, 0.8), (24, 0.2), (64, 0.1), (usize::MAX, 0.05)];

impl Supernode {
    pub fn width(&self) -> usize {
        self.last - self.first
    }

    fn stored(&self) -> usize {
        let (w, h) = (self.width(), self.height);
        w * h - w * (w - 1) / 2
    }

    /// This supernode with its last child in front of it.
    fn with_child(&self, child: &Supernode) -> Supernode {
        let height = child.width() + self.height;
        let added = child.width() * (height - child.height);
        Supernode {
            first: child.first,
            last: self.last,
            height,
            zeros: self.zeros + child.zeros + added,
        }
    }

    fn is_worth_storing(&self) -> bool {
        let share = self.zeros as f64 / self.stored() as f64;
        RELAXATION
            .iter()
            .find(|(width, _)| self.width() <= *width)
            .is_some_and(|(_, allowed)| share <= *allowed)
    }
}

/// Finds the supernodes: columns of equal structure first, then children merged into parents where few zeros result.
pub fn supernodes(ordering: &Ordering) -> Vec<Supernode> {
    let mut merged: Vec<Supernode> = Vec::new();
    for mut node in fundamental(ordering) {
        while let Some(child) = merged.last() {
            let above = ordering.parent[child.last - 1];
            if above == ROOT || (above as usize) >= node.last {
                break;
            }
            let candidate = node.with_child(child);
            if !candidate.is_worth_storing() {
                break;
            }
            node = candidate;
            merged.pop();
        }
        merged.push(node);
    }
    merged
}

fn fundamental(ordering: &Ordering) -> Vec<Supernode> {
    let mut found: Vec<Supernode> = Vec::new();
    for column in 0..ordering.parent.len() {
        let continues = column > 0
            && ordering.parent[column - 1] == column as u32
            && ordering.count[column - 1] == ordering.count[column] + 1;
        match found.last_mut() {
            Some(node) if continues => node.last = column + 1,
            _ => found.push(Supernode {
                first: column,
                last: column + 1,
                height: ordering.count[column] as usize,
                zeros: 0,
            }),
        }
    }
    found
}
