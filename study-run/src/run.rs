//! A study run to its table.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Write};
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc;

use rayon::{ThreadPool, ThreadPoolBuilder};

use crate::error::RunError;
use crate::form::Form;
use crate::groups::{Encoded, Maker};
use crate::journal::Identity;
use crate::part::Part;
use crate::space::{self, FreeSpace};
use crate::table::schema;
use crate::work_file::{Places, WorkFile};
use built::VERSION;
use files::Loaded;

/// Groups under way for each thread: one being made, one waiting for its turn to be written.
const GROUPS_A_THREAD: usize = 2;

/// Where a table goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Destination {
    /// A file whose ending names its form; a part's name is put into it.
    File(PathBuf),
    /// Standard output, as CSV.
    Standard,
}

/// What to do with what is already there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Existing {
    /// Refuse to run.
    #[default]
    Refused,
    /// Go on with it where it is unfinished; begin where there is nothing.
    Resumed,
    /// Begin anew; the old table stays until the new one is whole.
    Replaced,
}

/// What becomes of the rows under way when a run is told to stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum UnderWay {
    /// They are finished and written: nothing is lost, and a scene with casts may take minutes.
    #[default]
    Written,
    /// They are dropped, and computed again by the run that goes on: it stops within a piece of a group.
    Dropped,
}

/// How a study is run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Options {
    /// Where the table goes.
    pub destination: Destination,
    /// What to do with what is already there.
    pub existing: Existing,
    /// Which rows.
    pub part: Part,
    /// Number of threads; 0 for as many as the machine has.
    pub threads: usize,
    /// What becomes of the rows under way when the run is told to stop.
    pub under_way: UnderWay,
    /// What to do where the table seems not to fit on its disk.
    pub free_space: FreeSpace,
}

/// Is told how far a run has come.
pub trait Observer {
    /// The run begins, with so many rows there from before, of so many.
    fn begins(&mut self, there: u64, of: u64);
    /// So many rows are written, of which a crash may lose those that are not saved.
    fn written(&mut self, _rows: u64) {}
    /// So many rows are there and will last; never less than was told before.
    fn saved(&mut self, rows: u64);
}

/// Is told nothing.
impl Observer for () {
    fn begins(&mut self, _: u64, _: u64) {}
    fn saved(&mut self, _: u64) {}
}

/// What a run came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finished {
    /// The file that was written, the unfinished one if the run was stopped; none for standard output.
    pub path: Option<PathBuf>,
    /// Rows in it.
    pub rows: u64,
    /// Rows that it was to have.
    pub of: u64,
    /// Rows that were there from before.
    pub there: u64,
    /// Rows in it with a reason why something could not be measured; unknown where all rows were there
    /// from before.
    pub with_reason: Option<u64>,
    /// Its size in bytes, if it is whole.
    pub bytes: Option<u64>,
}

impl Finished {
    /// Whether all rows are there.
    #[must_use]
    pub const fn is_whole(&self) -> bool {
        self.rows == self.of
    }
}

/// Runs a study. The table's bytes depend on the study, the part and this crate's version alone, not on
/// threads, nor on how often the run was stopped and gone on with.
///
/// Once `stop` is true no more rows are begun; those under way are written or dropped, as [`Options::under_way`]
/// says, and the run ends with a file that can be read and gone on with.
///
/// # Errors
/// [`RunError`] says what was kept and how to go on.
pub fn run(
    loaded: &Loaded,
    options: &Options,
    observer: &mut dyn Observer,
    stop: &AtomicBool,
) -> Result<Finished, RunError> {
    match &options.destination {
        Destination::File(path) => to_file(loaded, options, path, observer, stop),
        Destination::Standard => to_standard(loaded, options, observer, stop),
    }
}

fn to_file(
    loaded: &Loaded,
    options: &Options,
    path: &Path,
    observer: &mut dyn Observer,
    stop: &AtomicBool,
) -> Result<Finished, RunError> {
    let form = Form::of(path)?;
    let places = Places::of(&options.part.named(path));
    let rows = options.part.rows(loaded.prepared.row_count());
    let of = rows.end - rows.start;
    let identity = Identity {
        study_sha256: loaded.sha256().to_owned(),
        version: VERSION.to_owned(),
        part: options.part.to_string(),
        form: form.name(),
    };
    let schema = schema_of_part(loaded, options.part);
    let encoder = form.encoder(&schema, &loaded.prepared)?;
    if let Some(bytes) = already_whole(loaded, options, &places, &identity)? {
        observer.begins(of, of);
        let path = Some(places.table);
        return Ok(Finished { path, rows: of, of, there: of, with_reason: None, bytes: Some(bytes) });
    }
    let pool = pool(options.threads)?;
    let mut maker = Maker::new(&loaded.prepared, &schema, &encoder, false);
    let resumed = match options.existing {
        Existing::Resumed => WorkFile::resume(&places, &identity, &encoder.head(), (&rows, maker.grouping))?,
        Existing::Refused | Existing::Replaced => None,
    };
    if options.free_space == FreeSpace::Asked {
        let there = resumed.as_ref().map_or(0, |file| file.written);
        space::check(&places.table, form, &maker, &(rows.start + there..rows.end))?;
    }
    let mut file = match resumed {
        Some(file) => file,
        None => WorkFile::begin(places.clone(), &identity, &encoder.head())?,
    };
    let there = file.written;
    observer.begins(there, of);
    let groups = maker.grouping.count(&(rows.start..rows.start + there))..maker.grouping.count(&rows);
    maker.spread = are_few(&groups, &pool);
    in_order(&maker, (&rows, groups), &pool, (stop, options.under_way), |group| {
        let before = file.saved;
        file.append(&group)?;
        observer.written(file.written);
        if file.saved > before {
            observer.saved(file.saved);
        }
        Ok(())
    })?;
    let (written, with_reason) = (file.written, Some(file.with_reason));
    let (path, bytes) = if written == of {
        (places.table, Some(file.finish(&encoder)?))
    } else {
        (file.leave(&encoder)?, None)
    };
    observer.saved(written);
    Ok(Finished { path: Some(path), rows: written, of, there, with_reason, bytes })
}

/// Refuses what must not be written over; the size of a table that is whole already and is not to be
/// computed again.
fn already_whole(
    loaded: &Loaded,
    options: &Options,
    places: &Places,
    identity: &Identity,
) -> Result<Option<u64>, RunError> {
    let name = || words::quoted::path(&places.table);
    let same = |one: &Path, other: &Path| matches!((fs::canonicalize(one), fs::canonicalize(other)), (Ok(one), Ok(other)) if one == other);
    for path in [&places.table, &places.unfinished, &places.journal] {
        if loaded.files.iter().any(|read| same(read, path)) {
            return Err(RunError::IsTheInput { name: words::quoted::path(path) });
        }
        if fs::metadata(path).is_ok_and(|about| !about.is_file()) {
            return Err(RunError::NoFile { name: words::quoted::path(path) });
        }
    }
    places.without_links()?;
    let folder = places.table.parent().filter(|folder| !folder.as_os_str().is_empty());
    if let Some(folder) = folder.filter(|folder| !folder.is_dir()) {
        return Err(RunError::NoFolder { name: name(), folder: words::quoted::path(folder) });
    }
    let whole = match fs::metadata(&places.table) {
        Ok(about) => Some(about.len()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(RunError::Unopenable { name: name(), error }),
    };
    let is_begun = places.is_begun();
    match (options.existing, whole) {
        (Existing::Refused, Some(_)) => Err(RunError::AlreadyThere { name: name() }),
        (Existing::Refused, None) if is_begun => {
            Err(RunError::Unfinished { name: words::quoted::path(&places.unfinished) })
        }
        (Existing::Resumed, Some(bytes)) if !is_begun => match crate::finished::identity(&places.table) {
            None => Err(RunError::Untold { name: name() }),
            Some(existing) => match identity.differs(&existing) {
                None => Ok(Some(bytes)),
                Some((begun, now)) => Err(RunError::OfAnother { name: name(), begun, now }),
            },
        },
        _ => Ok(None),
    }
}

fn to_standard(
    loaded: &Loaded,
    options: &Options,
    observer: &mut dyn Observer,
    stop: &AtomicBool,
) -> Result<Finished, RunError> {
    match options.existing {
        Existing::Refused => {}
        Existing::Resumed => return Err(RunError::NeedsFile { option: "--resume" }),
        Existing::Replaced => return Err(RunError::NeedsFile { option: "--overwrite" }),
    }
    let rows = options.part.rows(loaded.prepared.row_count());
    let of = rows.end - rows.start;
    let schema = schema(loaded);
    let encoder = Form::Csv.encoder(&schema, &loaded.prepared)?;
    let pool = pool(options.threads)?;
    let mut maker = Maker::new(&loaded.prepared, &schema, &encoder, false);
    let groups = 0..maker.grouping.count(&rows);
    maker.spread = are_few(&groups, &pool);
    let failure = |error: io::Error| match error.kind() {
        io::ErrorKind::BrokenPipe => RunError::Closed,
        _ => RunError::Standard(error),
    };
    let mut out = io::stdout().lock();
    observer.begins(0, of);
    out.write_all(&encoder.head()).map_err(failure)?;
    let (mut written, mut with_reason) = (0, 0);
    in_order(&maker, (&rows, groups), &pool, (stop, options.under_way), |group| {
        out.write_all(group.bytes.body()).and_then(|()| out.flush()).map_err(failure)?;
        written += group.rows.end - group.rows.start;
        with_reason += group.with_reason;
        observer.saved(written);
        Ok(())
    })?;
    out.flush().map_err(failure)?;
    Ok(Finished { path: None, rows: written, of, there: 0, with_reason: Some(with_reason), bytes: None })
}

/// The schema of a table, which says of a part that it is one.
pub(crate) fn schema_of_part(loaded: &Loaded, part: Part) -> arrow_schema::SchemaRef {
    let whole = schema(loaded);
    if part.is_whole() {
        return whole;
    }
    let mut of_part = (*whole).clone();
    of_part.metadata.insert(crate::table::key::PART.to_owned(), part.to_string());
    of_part.into()
}

pub(crate) fn pool(threads: usize) -> Result<ThreadPool, RunError> {
    let built = ThreadPoolBuilder::new().num_threads(threads).thread_name(|_| "rows".to_owned()).build();
    built.map_err(|error| RunError::Threads(error.to_string()))
}

/// Whether there are too few groups to keep every thread at work with one of its own.
fn are_few(groups: &Range<u64>, pool: &ThreadPool) -> bool {
    groups.end.saturating_sub(groups.start) < 4 * pool.current_num_threads() as u64
}

/// Makes groups on all threads and gives them to `take` one after the other. Few are held at a time,
/// however many there are. Once `stop` is true no more are begun.
fn in_order(
    maker: &Maker<'_>,
    (rows, groups): (&Range<u64>, Range<u64>),
    pool: &ThreadPool,
    (stop, under_way): (&AtomicBool, UnderWay),
    mut take: impl FnMut(Encoded) -> Result<(), RunError>,
) -> Result<(), RunError> {
    let most = (GROUPS_A_THREAD * pool.current_num_threads()) as u64;
    let failed = AtomicBool::new(false);
    let dropped = || under_way == UnderWay::Dropped && stop.load(Ordering::Relaxed);
    let abandoned = &|| failed.load(Ordering::Relaxed) || dropped();
    let (sender, receiver) = mpsc::channel();
    pool.in_place_scope(|scope| {
        let (mut begun, mut wanted) = (groups.start, groups.start);
        let mut early = BTreeMap::new();
        loop {
            while begun < groups.end && begun - wanted < most && !stop.load(Ordering::Relaxed) {
                let (sender, number) = (sender.clone(), begun);
                let group = maker.grouping.group(rows, number);
                scope.spawn(move |_| {
                    let made = catch_unwind(AssertUnwindSafe(|| maker.make(group, abandoned)));
                    let made =
                        made.unwrap_or_else(|_| Err(RunError::Fault("rows could not be computed".into())));
                    // Nobody listens once the run has failed.
                    let _ = sender.send((number, made));
                });
                begun += 1;
            }
            if wanted == begun {
                return Ok(());
            }
            let Ok((number, made)) = receiver.recv() else { return Ok(()) };
            early.insert(number, made);
            while let Some(made) = early.remove(&wanted) {
                let taken = match made {
                    Ok(Some(group)) => take(group),
                    // Those after it, too, do not follow on what is written.
                    Ok(None) => return Ok(()),
                    Err(error) => Err(error),
                };
                if taken.is_err() {
                    failed.store(true, Ordering::Relaxed);
                    return taken;
                }
                wanted += 1;
            }
        }
    })
}
