//! A table: its headings name the columns, its first words the rows, and one too wide for a phone is moved by itself.

use super::escape::escaped;
use crate::content::Table;

/// From so many columns on, a table is wider than a phone.
const WIDE: usize = 5;

/// Writes a table under the name of its heading.
pub(super) fn table(table: &Table, name: &str) -> String {
    let head = table
        .headings
        .iter()
        .enumerate()
        .map(|(index, heading)| heading_cell(table, index, heading));
    let head: String = head.collect();
    let rows = table.rows.iter().enumerate().map(|(at, row)| {
        let cells = row.iter().enumerate();
        let cells: String = cells
            .map(|(index, text)| cell(table, (at, index), text))
            .collect();
        format!("<tr>{cells}</tr>\n")
    });
    let rows: String = rows.collect();
    let head = if head.is_empty() {
        String::new()
    } else {
        format!("<thead><tr>{head}</tr></thead>\n")
    };
    let written = format!("<table>\n{head}<tbody>\n{rows}</tbody></table>");
    if table.headings.len() < WIDE {
        return format!("{written}\n");
    }
    format!(
        "<section class=\"scrolls\" tabindex=\"0\" aria-label=\"{}\">{written}</section>\n",
        escaped(name)
    )
}

fn class(table: &Table, index: usize) -> &'static str {
    if index >= table.word_columns {
        " class=\"number\""
    } else {
        ""
    }
}

fn heading_cell(table: &Table, index: usize, heading: &str) -> String {
    let class = class(table, index);
    if heading.trim().is_empty() {
        return format!("<td{class}></td>");
    }
    let lines: Vec<String> = heading.lines().map(escaped).collect();
    format!("<th scope=\"col\"{class}>{}</th>", lines.join("<br>"))
}

fn cell(table: &Table, (row, index): (usize, usize), text: &str) -> String {
    let class = class(table, index);
    let written = escaped(text);
    let is_head = index == 0 && table.word_columns > 0 && !text.is_empty();
    if is_head {
        format!("<th scope=\"row\">{written}</th>")
    } else if let Some(mark) = table.mark(row, index) {
        format!("<td{class}><s>{written}</s> {}</td>", escaped(mark))
    } else {
        format!("<td{class}>{written}</td>")
    }
}
