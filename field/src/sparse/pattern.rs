//! Which entries of a symmetric matrix may differ from zero.

use super::Number;

/// The places of a symmetric sparse matrix: one id for each unordered pair of unknowns that share an element.
///
/// The values of a matrix are an array indexed by these ids; several matrices may share one pattern.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// Where the pairs of a column begin; one more entry than unknowns.
    starts: Vec<usize>,
    /// Row of each pair, ascending in a column, never above the diagonal.
    rows: Vec<u32>,
}

impl Pattern {
    /// Collects the pairs of all elements; every unknown gets its diagonal place too.
    ///
    /// Each element lists its unknowns, all smaller than `unknowns`, in any order; what has no equation (a node of
    /// given value) is left out by the caller.
    pub fn new<'a>(unknowns: usize, elements: impl Iterator<Item = &'a [u32]> + Clone) -> Pattern {
        let mut columns = columns_with_duplicates(unknowns, elements);
        let mut starts = vec![0];
        let mut rows = Vec::new();
        for column in 0..unknowns {
            let found = columns.rows_of(column);
            found.sort_unstable();
            let mut last = None;
            rows.extend(found.iter().filter(|&&row| last.replace(row) != Some(row)));
            starts.push(rows.len());
        }
        Pattern { starts, rows }
    }

    /// How many unknowns the matrix has.
    pub fn unknowns(&self) -> usize {
        self.starts.len() - 1
    }

    /// How many pairs there are: the length of an array of values.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is no pair at all.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The id of a pair in either order, if the two unknowns share an element.
    pub fn find(&self, i: usize, j: usize) -> Option<usize> {
        let (row, column) = (i.max(j) as u32, i.min(j));
        let start = self.starts[column];
        let rows = &self.rows[start..self.starts[column + 1]];
        rows.binary_search(&row).ok().map(|place| start + place)
    }

    /// The id of a pair in either order.
    ///
    /// # Panics
    /// Where the two unknowns share no element: a mistake of the caller, not of the input.
    pub fn id(&self, i: usize, j: usize) -> usize {
        self.find(i, j)
            .expect("the two unknowns share an element of the pattern")
    }

    /// The id of a diagonal place.
    pub fn diagonal(&self, i: usize) -> usize {
        self.starts[i]
    }

    /// The pairs of a column as (id, row), the diagonal first.
    pub fn column(&self, column: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        (self.starts[column]..self.starts[column + 1]).map(|id| (id, self.rows[id] as usize))
    }

    /// y = A x.
    pub fn multiply<T: Number>(&self, values: &[T], x: &[T], y: &mut [T]) {
        y.fill(T::ZERO);
        for column in 0..self.unknowns() {
            let mut sum = values[self.starts[column]] * x[column];
            let below = self.starts[column] + 1..self.starts[column + 1];
            for (&row, &value) in self.rows[below.clone()].iter().zip(&values[below]) {
                y[row as usize] += value * x[column];
                sum += value * x[row as usize];
            }
            y[column] += sum;
        }
    }

    pub(super) fn starts(&self) -> &[usize] {
        &self.starts
    }

    pub(super) fn rows(&self) -> &[u32] {
        &self.rows
    }
}

/// The rows of each column before sorting, one after another.
struct Columns {
    starts: Vec<usize>,
    rows: Vec<u32>,
}

impl Columns {
    fn rows_of(&mut self, column: usize) -> &mut [u32] {
        &mut self.rows[self.starts[column]..self.starts[column + 1]]
    }
}

fn columns_with_duplicates<'a>(
    unknowns: usize,
    elements: impl Iterator<Item = &'a [u32]> + Clone,
) -> Columns {
    let mut starts = vec![0; unknowns + 1];
    (0..unknowns).for_each(|i| starts[i + 1] += 1);
    for_each_pair(elements.clone(), |_, column| {
        starts[column as usize + 1] += 1
    });
    (0..unknowns).for_each(|i| starts[i + 1] += starts[i]);
    let mut next = starts.clone();
    let mut rows = vec![0; starts[unknowns]];
    let mut put = |row: u32, column: u32| {
        rows[next[column as usize]] = row;
        next[column as usize] += 1;
    };
    (0..unknowns as u32).for_each(|i| put(i, i));
    for_each_pair(elements, put);
    Columns { starts, rows }
}

fn for_each_pair<'a>(elements: impl Iterator<Item = &'a [u32]>, mut visit: impl FnMut(u32, u32)) {
    for element in elements {
        for (k, &i) in element.iter().enumerate() {
            for &j in &element[..k] {
                visit(i.max(j), i.min(j));
            }
        }
    }
}
