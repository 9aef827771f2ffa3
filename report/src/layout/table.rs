//! Tables: columns as wide as their content asks, hairlines between rows, the head repeated on the next page.

use std::rc::Rc;

use crate::drawing::{Face, HAIRLINE_PT, Ink, THIN_PT};
use crate::line::{Style, break_lines, widths_pt};
use crate::sheet::{Align, Row, Table};
use crate::span::Text;

use super::blocks::{Setter, base_pt};
use super::slab::{Placed, Slab, What};
use super::{Kind, Size, style};

/// A table that is narrower than its column is widened to it only up to this factor.
const WIDEST_STRETCH: f64 = 1.5;

impl Setter {
    pub(super) fn table<'a>(&mut self, table: &Table, width_pt: f64) -> Vec<Slab<'a>> {
        let tag = self.tags.add(None, Kind::Table);
        let widths = self.column_widths(table, width_pt);
        let whole_pt = widths.iter().sum::<f64>()
            + self.setting.cell_gap_pt * widths.len().saturating_sub(1) as f64;
        let mut slabs = self.table_caption(table, tag, width_pt);
        let mut head = self.table_head(table, tag, &widths, whole_pt);
        head.before_pt = if slabs.is_empty() {
            self.setting.wide_gap_pt
        } else {
            2.0
        };
        let repeat = Rc::new(head.repeated());
        slabs.push(head);
        slabs.iter_mut().for_each(|slab| slab.keep_with_next = true);
        let body = self.tags.add(Some(tag), Kind::TableBody);
        for row in &table.rows {
            let mut slab = self.row(table, row, body, &widths, whole_pt);
            slab.head = Some(Rc::clone(&repeat));
            slabs.push(slab);
        }
        slabs
    }

    fn table_caption<'a>(&mut self, table: &Table, tag: usize, width_pt: f64) -> Vec<Slab<'a>> {
        if table.caption.is_empty() {
            return Vec::new();
        }
        let caption = self.tags.add(Some(tag), Kind::Caption);
        let look = style(self.setting.small, Face::Regular, Ink::Soft);
        self.lines(
            &table.caption,
            look,
            self.setting.small,
            width_pt,
            caption,
            self.setting.wide_gap_pt,
        )
    }

    fn table_head<'a>(
        &mut self,
        table: &Table,
        tag: usize,
        widths: &[f64],
        whole_pt: f64,
    ) -> Slab<'a> {
        let head = self.tags.add(Some(tag), Kind::TableHead);
        let row = self.tags.add(Some(head), Kind::Row);
        let look = style(self.setting.small, Face::Regular, Ink::Full);
        let cells: Vec<Cell> = table
            .columns
            .iter()
            .map(|column| Cell {
                text: &column.heading,
                align: column.align,
                tag: self.tags.add(
                    Some(row),
                    Kind::HeadCell {
                        of_row: false,
                        columns: 1,
                    },
                ),
            })
            .collect();
        let mut slab = self.cells(&cells, look, self.setting.small, widths, true);
        slab.put_bar(0.0, slab.height_pt - THIN_PT, whole_pt, THIN_PT, Ink::Full);
        slab
    }

    fn row<'a>(
        &mut self,
        table: &Table,
        row: &Row,
        body: usize,
        widths: &[f64],
        whole_pt: f64,
    ) -> Slab<'a> {
        let row_tag = self.tags.add(Some(body), Kind::Row);
        let look = style(self.setting.cell, Face::Regular, Ink::Full);
        let mut slab = match row {
            Row::Group(text) => self.group_row(text, row_tag, table.columns.len(), whole_pt),
            Row::Cells(texts) => {
                let mut cells = Vec::with_capacity(texts.len());
                for (i, text) in texts.iter().enumerate() {
                    let names_row = i == 0 && table.first_cell_names_row;
                    let kind = if names_row {
                        Kind::HeadCell {
                            of_row: true,
                            columns: 1,
                        }
                    } else {
                        Kind::Cell
                    };
                    let tag = self.tags.add(Some(row_tag), kind);
                    cells.push(Cell {
                        text,
                        align: table.columns[i].align,
                        tag,
                    });
                }
                self.cells(&cells, look, self.setting.cell, widths, false)
            }
        };

        slab.put_bar(
            0.0,
            slab.height_pt - HAIRLINE_PT,
            whole_pt,
            HAIRLINE_PT,
            Ink::Hairline,
        );
        slab
    }

    fn group_row<'a>(
        &mut self,
        text: &Text,
        row_tag: usize,
        columns: usize,
        whole_pt: f64,
    ) -> Slab<'a> {
        let columns = u32::try_from(columns.max(1)).unwrap_or(1);
        let tag = self.tags.add(
            Some(row_tag),
            Kind::HeadCell {
                of_row: true,
                columns,
            },
        );
        let cell = Cell {
            text,
            align: Align::Start,
            tag,
        };
        let look = style(self.setting.cell, Face::Strong, Ink::Full);
        let mut slab = self.cells(&[cell], look, self.setting.cell, &[whole_pt], false);
        let moved: Vec<Placed> = std::mem::take(&mut slab.placed);
        slab.placed = moved
            .into_iter()
            .map(|placed| Placed {
                y_pt: placed.y_pt + 5.0,
                ..placed
            })
            .collect();
        slab.height_pt += 5.0;
        slab.keep_with_next = true;
        slab
    }

    /// A row of cells; the text of heads stands at the bottom, that of rows at the top.
    fn cells<'a>(
        &mut self,
        cells: &[Cell],
        look: Style,
        size: Size,
        widths: &[f64],
        at_bottom: bool,
    ) -> Slab<'a> {
        let mut broken = Vec::with_capacity(cells.len());
        for (cell, width_pt) in cells.iter().zip(widths) {
            broken.push(break_lines(cell.text, look, *width_pt, &mut self.marks));
        }
        let most = broken.iter().map(Vec::len).max().unwrap_or(1);
        let mut slab = Slab::of_height(
            0.0,
            most as f64 * size.leading_pt + 2.0 * self.setting.pad_pt,
        );
        let mut x_pt = 0.0;
        for ((cell, width_pt), lines) in cells.iter().zip(widths).zip(broken) {
            let skipped = if at_bottom { most - lines.len() } else { 0 };
            for (i, line) in lines.into_iter().enumerate() {
                let y_pt =
                    self.setting.pad_pt + (skipped + i) as f64 * size.leading_pt + base_pt(size);
                if line.pieces.is_empty() {
                    slab.placed.push(Placed {
                        x_pt,
                        y_pt,
                        tag: Some(cell.tag),
                        what: What::Nothing,
                    });
                }
                let shift_pt = match cell.align {
                    Align::Start => 0.0,
                    Align::Center => (width_pt - line.width_pt) / 2.0,
                    Align::End => width_pt - line.width_pt,
                };
                slab.put_line(line, x_pt + shift_pt, y_pt, Some(cell.tag));
            }
            x_pt += width_pt + self.setting.cell_gap_pt;
        }
        slab
    }

    /// Natural widths where they fit, widened a little; else the room is shared so that rows stay low.
    fn column_widths(&mut self, table: &Table, width_pt: f64) -> Vec<f64> {
        let mut asked = Vec::new();
        for (i, column) in table.columns.iter().enumerate() {
            let head = style(self.setting.small, Face::Regular, Ink::Full);
            let cell = style(self.setting.cell, Face::Regular, Ink::Full);
            let mut one = Asked::default();
            one.add(widths_pt(&column.heading, head, &mut self.marks));
            for row in &table.rows {
                if let Row::Cells(cells) = row {
                    one.add(widths_pt(&cells[i], cell, &mut self.marks));
                }
            }
            asked.push(one);
        }
        let room_pt =
            width_pt - self.setting.cell_gap_pt * table.columns.len().saturating_sub(1) as f64;
        shared(&asked, room_pt)
    }
}

/// What a column asks for, in points.
#[derive(Debug, Clone, Copy, Default)]
struct Asked {
    /// Width of the longest word.
    least: f64,
    /// Width of the longest cell on one line.
    most: f64,
    /// Sum over the cells of their widths to the power of [`STEEPNESS`].
    weight: f64,
}

/// How much more a cell of many lines counts than several of few lines: high, because the highest cell makes the row.
const STEEPNESS: f64 = 4.0;

impl Asked {
    fn add(&mut self, (least, most): (f64, f64)) {
        self.least = self.least.max(least);
        self.most = self.most.max(most);
        self.weight += most.powf(STEEPNESS);
    }
}

struct Cell<'t> {
    text: &'t Text,
    align: Align,
    tag: usize,
}

/// Widths of columns in a room: the sum over the cells of (width of the text / width of the column)^p is least where
/// columns are as the (p + 1)th root of their weight, each between its longest word and its longest cell.
fn shared(asked: &[Asked], room_pt: f64) -> Vec<f64> {
    let least: f64 = asked.iter().map(|one| one.least).sum();
    let most: f64 = asked.iter().map(|one| one.most).sum();
    if most <= 0.0 {
        return vec![room_pt / asked.len().max(1) as f64; asked.len()];
    }
    if most <= room_pt {
        let stretch = (room_pt / most).min(WIDEST_STRETCH);
        return asked.iter().map(|one| one.most * stretch).collect();
    }
    if least >= room_pt {
        let part = room_pt / least;
        return asked.iter().map(|one| one.least * part).collect();
    }
    let widths = |scale: f64| -> Vec<f64> {
        let root = |one: &Asked| one.weight.powf(1.0 / (STEEPNESS + 1.0));
        let width = |one| (scale * root(one)).clamp(one.least, one.most);
        asked.iter().map(width).collect()
    };
    let (mut low, mut high) = (0.0, room_pt);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if widths(middle).iter().sum::<f64>() > room_pt {
            high = middle;
        } else {
            low = middle;
        }
    }
    widths(low)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_never_exceed_the_room_and_never_fall_below_their_words_while_there_is_room() {
        for room_pt in [60.0, 150.0, 300.0, 600.0] {
            let asked = [(20.0, 40.0), (30.0, 160.0), (50.0, 90.0)].map(|widths| {
                let mut one = Asked::default();
                one.add(widths);
                one
            });
            let widths = shared(&asked, room_pt);
            assert!(widths.iter().sum::<f64>() <= room_pt + 1e-9);
            if room_pt >= 100.0 {
                assert!(
                    widths
                        .iter()
                        .zip([20.0, 30.0, 50.0])
                        .all(|(width, least)| *width >= least - 1e-9)
                );
            }
        }
    }
}
