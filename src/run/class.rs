//! The editions of a plan, and of the class editions the sheets of all groups in one file or of each
//! group in a file of its own.

use super::Worked;
use crate::booklet::folio::Page;
use crate::booklet::{Booklet, Grow, worksheet};
use crate::cli::{Class, Edition};
use crate::compute;
use crate::compute::Results;
use crate::finding::Findings;
use crate::library::Library;
use crate::plan::Plan;
use crate::write::crew::side_by_side;

/// Booklets, each with the stem of its files.
type Named = Vec<(String, Booklet)>;

/// A plan with the numbers of a group, and what comes of them.
type Varied = (Plan, Results);

impl Worked {
    /// Composes a class edition: exercises, or with `key` their answers, of all groups.
    ///
    /// # Errors
    /// A fault in the page templates.
    #[must_use]
    pub fn worksheet(&self, key: bool, class: &Class) -> Option<Result<Booklet, String>> {
        let own = self.grow()?;
        let edition = worksheet::Edition::new(own.plan, key);
        let pages = by_group(&edition, &own, &varied(&own, class), Ok);
        Some(pages.and_then(|pages| edition.bind(&own, pages.concat())))
    }

    /// Composes a class edition of each group by itself, in order.
    ///
    /// # Errors
    /// A fault in the page templates.
    #[must_use]
    pub fn worksheets(&self, key: bool, class: &Class) -> Option<Result<Vec<Booklet>, String>> {
        self.apart(key, &varied(&self.grow()?, class))
    }

    fn apart(&self, key: bool, groups: &[Varied]) -> Option<Result<Vec<Booklet>, String>> {
        let own = self.grow()?;
        let edition = worksheet::Edition::new(own.plan, key);
        Some(by_group(&edition, &own, groups, |pages| edition.bind(&own, pages)))
    }

    fn grow(&self) -> Option<Grow<'_>> {
        let (plan, results) = self.done.as_ref()?;
        let (library, findings) = (Library::embedded(), self.findings.as_slice());
        Some(Grow { plan, results, library, findings, digest: &self.digest })
    }
}

/// The numbers of each group; none if there is one, which has those of the plan.
fn varied(own: &Grow<'_>, class: &Class) -> Vec<Varied> {
    let groups = if class.groups < 2 { 0 } else { class.groups as usize };
    side_by_side(groups, |before| {
        let plan = own.plan.varied(class.seed, before as u64 + 1);
        // What there is to say was said of the plan itself.
        let results = compute::compute(&plan, Library::embedded(), &Findings::default());
        (plan, results)
    })
}

/// What `make` makes of the pages of every group.
fn by_group<T: Send>(
    edition: &worksheet::Edition,
    own: &Grow<'_>,
    groups: &[Varied],
    make: impl Fn(Vec<Page>) -> Result<T, String> + Sync,
) -> Result<Vec<T>, String> {
    if groups.is_empty() {
        return edition.pages(own, own, 0).and_then(make).map(|made| vec![made]);
    }
    let made = side_by_side(groups.len(), |i| {
        let (plan, results) = &groups[i];
        make(edition.pages(own, &Grow { plan, results, ..*own }, i + 1)?)
    });
    made.into_iter().collect()
}

/// One edition in one booklet.
pub(super) fn compose(
    worked: &Worked,
    edition: Edition,
    class: &Class,
) -> Option<Result<Booklet, String>> {
    match edition {
        Edition::Grower => worked.booklet(),
        Edition::Shelf => worked.shelf(),
        Edition::Pupil => worked.worksheet(false, class),
        Edition::Key => worked.worksheet(true, class),
    }
}

/// Every edition, in as many booklets as are asked for: pupils and their teacher have the same groups.
pub(super) fn booklets(
    worked: &Worked,
    class: &Class,
    stem: &str,
) -> Option<Result<Named, String>> {
    let classroom = |edition: &Edition| matches!(edition, Edition::Pupil | Edition::Key);
    let apart = class.apart && class.groups > 1 && class.editions.iter().any(classroom);
    let groups = if apart { varied(&worked.grow()?, class) } else { Vec::new() };
    let of = |edition: &Edition| -> Option<Result<Named, String>> {
        let name = named(stem, *edition);
        if !(apart && classroom(edition)) {
            return Some(compose(worked, *edition, class)?.map(|booklet| vec![(name, booklet)]));
        }
        let sheets = worked.apart(*edition == Edition::Key, &groups)?;
        let numbered = |sheets: Vec<Booklet>| {
            let sheets = sheets.into_iter().enumerate();
            sheets.map(|(i, sheet)| (format!("{name}-{:02}", i + 1), sheet)).collect()
        };
        Some(sheets.map(numbered))
    };
    let all: Option<Result<Vec<Named>, String>> = class.editions.iter().map(of).collect();
    Some(all?.map(|all| all.concat()))
}

/// The stem of the files of an edition.
pub(super) fn named(stem: &str, edition: Edition) -> String {
    match edition {
        Edition::Grower => stem.into(),
        Edition::Shelf => format!("{stem}-shelf"),
        Edition::Pupil => format!("{stem}-pupil"),
        Edition::Key => format!("{stem}-key"),
    }
}
