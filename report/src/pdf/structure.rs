//! The logical structure as tags of the PDF.

use std::num::{NonZeroU16, NonZeroU32};

use krilla::tagging::{
    Identifier, ListNumbering, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};

use crate::layout::{Kind, Tags};

/// Collects the drawn content of each node.
pub(super) struct Structure {
    drawn: Vec<Vec<Identifier>>,
}

impl Structure {
    pub(super) fn new(tags: &Tags) -> Structure {
        Structure {
            drawn: vec![Vec::new(); tags.nodes.len()],
        }
    }

    pub(super) fn add(&mut self, node: usize, identifier: Identifier) {
        self.drawn[node].push(identifier);
    }

    pub(super) fn tree(&self, tags: &Tags) -> TagTree {
        let mut tree = TagTree::new();
        for root in &tags.roots {
            if let Some(group) = self.group(tags, *root) {
                tree.push(group);
            }
        }
        tree
    }

    fn group(&self, tags: &Tags, node: usize) -> Option<TagGroup> {
        let mut group = TagGroup::new(kind(&tags.nodes[node].kind));
        for child in &tags.nodes[node].children {
            if let Some(inner) = self.group(tags, *child) {
                group.push(inner);
            }
        }
        for identifier in &self.drawn[node] {
            group.push(*identifier);
        }
        (!group.children.is_empty()).then_some(group)
    }
}

fn kind(kind: &Kind) -> TagKind {
    match kind {
        Kind::Title => Tag::Title.into(),
        Kind::Heading { level, title } => Tag::Hn(
            NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN),
            Some(title.clone()),
        )
        .into(),
        Kind::Paragraph => Tag::P.into(),
        Kind::List => Tag::L(ListNumbering::None).into(),
        Kind::Item => Tag::LI.into(),
        Kind::ItemLabel => Tag::Lbl.into(),
        Kind::ItemBody => Tag::LBody.into(),
        Kind::Table => Tag::Table.into(),
        Kind::TableHead => Tag::THead.into(),
        Kind::TableBody => Tag::TBody.into(),
        Kind::Row => Tag::TR.into(),
        Kind::HeadCell { of_row, columns } => {
            let scope = if *of_row {
                TableHeaderScope::Row
            } else {
                TableHeaderScope::Column
            };
            Tag::TH(scope)
                .with_col_span(NonZeroU32::new(*columns))
                .into()
        }
        Kind::Cell => Tag::TD.into(),
        Kind::Figure { told } => Tag::Figure(Some(told.clone())).into(),
        Kind::Caption => Tag::Caption.into(),
        Kind::Explanation => Tag::Note.into(),
        Kind::Part => Tag::Div.into(),
    }
}
