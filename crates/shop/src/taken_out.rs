//! How a slab stands that a job takes of, as it is on the sheet: what is left before and after the cut, or what was taken out already.

use rust_decimal::Decimal;
use scantling_pricing::book::document::Node;
use scantling_pricing::book::values::Share;

use crate::cuts::percent;
use crate::sheet::{Edit, Path};
use crate::slim::rows;

/// How a slab stands to a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stands {
    /// Where the slab is among the slabs of the book.
    row: Option<usize>,
    /// What it is called.
    pub name: String,
    /// What the job takes of its face; nothing while that can't be read.
    share: Option<Decimal>,
    /// What was taken out of it for the job.
    pub taken_out: Option<Decimal>,
    /// What is left of it, what was taken out apart; nothing where the book has it no more, or its cuts can't be read.
    left: Option<Decimal>,
}

impl Stands {
    /// The slab with this key, to a job of this book.
    #[must_use]
    pub fn new(root: &Node, job: &Node, key: &str) -> Self {
        let slabs = root.under("slabs").map_or(&[][..], rows);
        let row = slabs.iter().position(|slab| slab.text("key") == Some(key));
        let slab = row.and_then(|row| slabs.get(row));
        let share = |node: &Node| node.read_as::<Share>().ok().map(Share::value);
        let cuts = slab.and_then(|slab| slab.under("cut")).map_or(&[][..], rows);
        let sold = cuts.iter().map(share).sum::<Option<Decimal>>();
        Self {
            row,
            name: slab.and_then(|slab| slab.text("name")).unwrap_or(key).to_owned(),
            share: job.under("slabs").and_then(|slabs| share(slabs.under(key)?.under("share")?)),
            taken_out: job.under("cut_out").and_then(|cuts| share(cuts.under(key)?)),
            left: slab.and(sold).map(|sold| Decimal::ONE.saturating_sub(sold)),
        }
    }

    /// What the maker is told of it.
    #[must_use]
    pub fn words(&self) -> String {
        let Some(left) = self.left else {
            return "the book has this slab no more, or its own cuts can't be read.".to_owned();
        };
        let part = |share: Decimal| format!("{} %", percent(share.max(Decimal::ZERO)));
        match (self.taken_out, self.share) {
            (Some(out), Some(share)) if share != out => format!(
                "{} was taken out for this job, which says {} now. {} of it is left. Undo that, or correct the slab's own cuts in Slabs.",
                part(out),
                part(share),
                part(left)
            ),
            (Some(out), _) => format!("{} was taken out for this job. {} of it is left.", part(out), part(left)),
            (None, Some(share)) if share > left => {
                format!("{} of its face is left, and this job takes {}: more than there is.", part(left), part(share))
            }
            (None, Some(share)) => {
                let after = left.saturating_sub(share);
                format!(
                    "{} of its face is left; once this cut of {} is taken out, {}.",
                    part(left),
                    part(share),
                    part(after)
                )
            }
            (None, None) => format!("{} of its face is left.", part(left)),
        }
    }

    /// The edits that take a share out of the slab for the job at a place; nothing where the book has no such slab.
    #[must_use]
    pub fn edits(&self, root: &Node, (job, key): (&Path, &str), share: Share) -> Option<Vec<Edit>> {
        let own = Path::whole().key("slabs").index(self.row?).key("cut");
        let written = Node::Text(share.value().normalize().to_string());
        let list = own.find(root).is_none().then(|| Edit::set(own.clone(), Node::List(Vec::new())));
        let count = own.find(root).map_or(0, |cuts| rows(cuts).len());
        let cut = Edit::Insert(own.index(count), written.clone());
        let table = job.key("cut_out");
        let fresh = table.find(root).is_none().then(|| Edit::set(table.clone(), Node::Table(Vec::new())));
        let noted = Edit::set(table.key(key), written);
        Some(list.into_iter().chain([cut]).chain(fresh).chain([noted]).collect())
    }
}

#[cfg(test)]
mod tests {
    use scantling_pricing::book::ShopBook;
    use scantling_pricing::book::values::Key;
    use scantling_pricing::jobs::slab_cut;

    use super::*;
    use crate::sheet::Sheet;

    /// The demo's first job takes this share of its oak slab.
    fn sheet(share: &str) -> Sheet {
        let mut sheet = Sheet::open(crate::DEMO).unwrap();
        let taken = Node::read(&format!(r#"{{"oak-slab-04": {{"share": "{share}", "cost": "10"}}}}"#)).unwrap();
        assert!(sheet.edit("taking", vec![Edit::set(Path::read("jobs[0].slabs"), taken)]));
        sheet
    }

    fn stands(sheet: &Sheet) -> Stands {
        Stands::new(sheet.root(), sheet.at(&Path::read("jobs[0]")).unwrap(), "oak-slab-04")
    }

    #[test]
    fn a_cut_is_written_into_its_slab_once_and_undone_as_one_edit() {
        let mut sheet = sheet("0.75");
        let before = sheet.text();
        assert_eq!(stands(&sheet).words(), "100 % of its face is left; once this cut of 75 % is taken out, 25 %.");
        let key = Key::new("oak-slab-04").unwrap();
        let cut_of = |sheet: &Sheet| {
            let book = ShopBook::read(&sheet.text()).unwrap();
            slab_cut(&book, &book.jobs[0], &key)
        };
        let share = cut_of(&sheet).unwrap().share;
        let job = Path::read("jobs[0]");
        let edits = stands(&sheet).edits(sheet.root(), (&job, "oak-slab-04"), share).unwrap();
        assert!(sheet.edit("taking the cut out", edits));
        assert_eq!(stands(&sheet).words(), "75 % was taken out for this job. 25 % of it is left.");
        let book = ShopBook::read(&sheet.text()).unwrap();
        assert_eq!(book.slabs[1].cut.iter().map(|share| share.value().to_string()).collect::<Vec<_>>(), ["0.75"]);
        assert!(cut_of(&sheet).is_err(), "not twice");
        sheet.edit(
            "correcting",
            vec![Edit::set(Path::read("jobs[0].slabs.oak-slab-04.share"), Node::Text("0.5".into()))],
        );
        assert!(
            stands(&sheet)
                .words()
                .starts_with("75 % was taken out for this job, which says 50 % now. 25 % of it is left.")
        );
        sheet.undo();
        sheet.undo();
        assert_eq!(sheet.text(), before);
    }

    #[test]
    fn what_is_more_than_is_left_or_can_t_be_read_is_said() {
        let mut sheet = sheet("0.75");
        let cuts = Node::read(r#"["0.5", "0.1"]"#).unwrap();
        sheet.edit("selling", vec![Edit::set(Path::read("slabs[1].cut"), cuts)]);
        assert_eq!(stands(&sheet).words(), "40 % of its face is left, and this job takes 75 %: more than there is.");
        sheet.edit("typing", vec![Edit::set(Path::read("jobs[0].slabs.oak-slab-04.share"), Node::Text("half".into()))]);
        assert_eq!(stands(&sheet).words(), "40 % of its face is left.");
        sheet.edit("typing", vec![Edit::set(Path::read("slabs[1].cut[0]"), Node::Text("most".into()))]);
        assert!(stands(&sheet).words().contains("can't be read"));
        let gone = Stands::new(sheet.root(), sheet.at(&Path::read("jobs[0]")).unwrap(), "no-slab");
        assert!(gone.words().starts_with("the book has this slab no more"));
        assert_eq!(
            gone.edits(sheet.root(), (&Path::read("jobs[0]"), "no-slab"), Share::new(Decimal::ONE).unwrap()),
            None
        );
    }
}
