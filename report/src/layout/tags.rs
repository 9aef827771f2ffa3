//! The logical structure of the document: what is a heading, a table cell, a figure.

/// The role of a node.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Kind {
    Title,
    Heading { level: u16, title: String },
    Paragraph,
    List,
    Item,
    ItemLabel,
    ItemBody,
    Table,
    TableHead,
    TableBody,
    Row,
    HeadCell { of_row: bool, columns: u32 },
    Cell,
    Figure { told: String },
    Caption,
    Explanation,
    Part,
}

/// A node with the nodes below it; content belongs to nodes without any.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Node {
    pub kind: Kind,
    pub children: Vec<usize>,
}

/// All nodes; the roots in reading order.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Tags {
    pub nodes: Vec<Node>,
    pub roots: Vec<usize>,
}

impl Tags {
    /// A new node below `parent`, or a root.
    pub(crate) fn add(&mut self, parent: Option<usize>, kind: Kind) -> usize {
        let number = self.nodes.len();
        self.nodes.push(Node {
            kind,
            children: Vec::new(),
        });
        match parent {
            Some(parent) => self.nodes[parent].children.push(number),
            None => self.roots.push(number),
        }
        number
    }
}
