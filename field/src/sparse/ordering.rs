//! In which order the unknowns are eliminated, and the tree that the elimination follows.

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::amd;

use super::Pattern;

/// No parent: a root of the elimination tree.
pub const ROOT: u32 = u32::MAX;

/// An order of elimination in which every child of the elimination tree comes before its parent and the columns of
/// a subtree follow one another.
pub struct Ordering {
    /// Place in the elimination of each unknown.
    pub place: Vec<u32>,
    /// Parent of each place in the elimination tree (Liu 1990), or [`ROOT`].
    pub parent: Vec<u32>,
    /// How many rows of L each column has, with the diagonal.
    pub count: Vec<u32>,
    /// The pattern in places: for each place the earlier places that it shares a pair with.
    pub earlier: Lists,
}

/// Lists of numbers, stored one after another.
pub struct Lists {
    pub starts: Vec<usize>,
    pub items: Vec<u32>,
}

impl Lists {
    pub fn of(&self, which: usize) -> &[u32] {
        &self.items[self.starts[which]..self.starts[which + 1]]
    }
}

/// Orders by approximate minimum degree (Amestoy, Davis & Duff 1996), then by postorder of the elimination tree.
pub fn order(pattern: &Pattern) -> Ordering {
    let degree_place = minimum_degree(pattern);
    let tree = elimination_tree(&earlier_neighbors(pattern, &degree_place));
    let post = postorder(&tree);
    let place: Vec<u32> = degree_place.iter().map(|&at| post[at as usize]).collect();
    let mut parent = vec![ROOT; tree.len()];
    for (node, &above) in tree.iter().enumerate().filter(|&(_, &above)| above != ROOT) {
        parent[post[node] as usize] = post[above as usize];
    }
    let earlier = earlier_neighbors(pattern, &place);
    let count = column_counts(&parent, &earlier);
    Ordering {
        place,
        parent,
        count,
        earlier,
    }
}

/// Place of each unknown by minimum degree.
fn minimum_degree(pattern: &Pattern) -> Vec<u32> {
    let n = pattern.unknowns();
    let starts: Vec<u32> = pattern.starts().iter().map(|&start| start as u32).collect();
    let matrix = SymbolicSparseColMatRef::new_checked(n, n, &starts, None, pattern.rows());
    let (mut order, mut place) = (vec![0u32; n], vec![0u32; n]);
    let mut memory = MemBuffer::new(amd::order_scratch::<u32>(n, pattern.len()));
    amd::order(
        &mut order,
        &mut place,
        matrix,
        amd::Control::default(),
        MemStack::new(&mut memory),
    )
    .expect("the pattern is small enough for 32-bit numbers");
    place
}

fn earlier_neighbors(pattern: &Pattern, place: &[u32]) -> Lists {
    let n = pattern.unknowns();
    let later = |i: usize, j: usize| place[i].max(place[j]) as usize;
    let mut starts = vec![0; n + 1];
    for column in 0..n {
        for (_, row) in pattern.column(column).skip(1) {
            starts[later(row, column) + 1] += 1;
        }
    }
    (0..n).for_each(|i| starts[i + 1] += starts[i]);
    let mut next = starts.clone();
    let mut items = vec![0; starts[n]];
    for column in 0..n {
        for (_, row) in pattern.column(column).skip(1) {
            let owner = later(row, column);
            items[next[owner]] = place[row].min(place[column]);
            next[owner] += 1;
        }
    }
    Lists { starts, items }
}

/// Parents by Liu's algorithm with path compression (Davis 2006, section 4.1).
fn elimination_tree(earlier: &Lists) -> Vec<u32> {
    let n = earlier.starts.len() - 1;
    let mut parent = vec![ROOT; n];
    let mut ancestor = vec![ROOT; n];
    for k in 0..n {
        for &start in earlier.of(k) {
            let mut node = start as usize;
            while node != ROOT as usize && node < k {
                let above = ancestor[node];
                ancestor[node] = k as u32;
                if above == ROOT {
                    parent[node] = k as u32;
                }
                node = above as usize;
            }
        }
    }
    parent
}

/// Rank of each node when children come before parents and subtrees stay together.
fn postorder(parent: &[u32]) -> Vec<u32> {
    let n = parent.len();
    let mut first_child = vec![ROOT; n];
    let mut sibling = vec![ROOT; n];
    let mut pending = Vec::new();
    for node in (0..n).rev() {
        match parent[node] {
            ROOT => pending.push(node as u32),
            above => {
                sibling[node] = first_child[above as usize];
                first_child[above as usize] = node as u32;
            }
        }
    }
    let mut rank = vec![0; n];
    let mut next = 0;
    while let Some(&node) = pending.last() {
        let child = first_child[node as usize];
        if child == ROOT {
            pending.pop();
            rank[node as usize] = next;
            next += 1;
        } else {
            first_child[node as usize] = sibling[child as usize];
            pending.push(child);
        }
    }
    rank
}

/// Rows of L in each column: each row of A marks its subtree of the elimination tree.
fn column_counts(parent: &[u32], earlier: &Lists) -> Vec<u32> {
    let n = parent.len();
    let mut count = vec![1; n];
    let mut seen_by = vec![ROOT; n];
    for row in 0..n {
        seen_by[row] = row as u32;
        for &start in earlier.of(row) {
            let mut node = start as usize;
            while seen_by[node] != row as u32 {
                seen_by[node] = row as u32;
                count[node] += 1;
                node = parent[node] as usize;
            }
        }
    }
    count
}
