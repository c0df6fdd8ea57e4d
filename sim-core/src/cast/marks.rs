//! The marks that a film between the teeth would print.

use nalgebra::Vector3;

use super::casts::Casts;
use super::film::Film;
use super::print::{MOST_FILMS, Print, Printed, TooIntricate};
use crate::cusp::{Arch, Tooth};
use crate::frame::{JawPose, LowerPoint, UpperPoint};
use crate::units::Length;

/// A place on a cast, in the frame of its member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CastPlace {
    /// On the upper cast.
    Upper(UpperPoint),
    /// On the lower cast.
    Lower(LowerPoint),
}

/// One mark: a connected part of a cast's surface, within a tooth, that comes within the film's
/// thickness of the other cast.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The cast that it is printed on.
    pub arch: Arch,
    /// The tooth that it is on.
    pub tooth: Option<Tooth>,
    /// Its area, in square millimetres.
    pub area_mm2: f64,
    /// The centroid of that area; on a curved surface a little off it.
    pub centroid: CastPlace,
    /// Where it comes nearest, or pierces deepest.
    pub deepest: CastPlace,
    /// The true distance there, below zero where the other cast is pierced.
    pub gap: Length,
    /// The triangles that it is on, wholly or in part, in ascending order.
    pub triangles: Vec<u32>,
}

/// All marks on one tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothMarks {
    /// The arch of the marks.
    pub arch: Arch,
    /// The tooth, or `None` for all that belongs to none.
    pub tooth: Option<Tooth>,
    /// How many marks.
    pub marks: usize,
    /// Their areas together, in square millimetres.
    pub area_mm2: f64,
    /// The least true distance among them.
    pub gap: Length,
}

impl Mark {
    /// The marks of each tooth together, the upper arch first, by tooth number.
    #[must_use]
    pub fn by_tooth(marks: &[Self]) -> Vec<ToothMarks> {
        let mut totals: Vec<ToothMarks> = Vec::new();
        for mark in marks {
            let same = totals.iter_mut().find(|total| total.arch == mark.arch && total.tooth == mark.tooth);
            match same {
                Some(total) => {
                    total.marks += 1;
                    total.area_mm2 += mark.area_mm2;
                    if mark.gap < total.gap {
                        total.gap = mark.gap;
                    }
                }
                None => totals.push(ToothMarks {
                    arch: mark.arch,
                    tooth: mark.tooth,
                    marks: 1,
                    area_mm2: mark.area_mm2,
                    gap: mark.gap,
                }),
            }
        }
        totals.sort_by_key(|total| (total.arch == Arch::Lower, total.tooth));
        totals
    }
}

impl Casts {
    /// The marks that a film would print on both casts in a jaw pose: the upper cast's first, then by
    /// tooth, the largest first.
    ///
    /// A place prints if its true distance from the other surface is no more than the thickness, or if
    /// it lies behind that surface. At the edge of a mark the distance is taken at points close enough
    /// together for the film (see [`Film`]) and is linear between them. Two printed triangles of one tooth
    /// are of one mark if they print on an edge that they share.
    ///
    /// An area is the facets', not the tooth's: where a film is thinner than the facets stand off the
    /// tooth's curve (edge² / 8 radius, 16 µm for 0.5 mm on a radius of 2 mm), a finer mesh prints
    /// another.
    ///
    /// # Errors
    /// [`TooIntricate`] where the casts cross along so many and long lines that three million distances, and four
    /// more for each triangle near the other cast, do not tell their marks: no casts of teeth in place do.
    pub fn marks(&self, pose: &JawPose, film: Film) -> Result<Vec<Mark>, TooIntricate> {
        Ok(self.marks_of(pose, &[film])?.pop().unwrap_or_default())
    }

    /// [`Self::marks`] of several films, in their order; sooner than one by one.
    ///
    /// # Errors
    /// As for [`Self::marks`].
    pub fn marks_of(&self, pose: &JawPose, films: &[Film]) -> Result<Vec<Vec<Mark>>, TooIntricate> {
        let mut all = Vec::with_capacity(films.len());
        for films in films.chunks(MOST_FILMS) {
            let mut print = Print::of(self, pose, films);
            let mut marks = vec![Vec::new(); films.len()];
            for arch in [Arch::Upper, Arch::Lower] {
                for (marks, printed) in marks.iter_mut().zip(print.on(arch)?) {
                    let first = marks.len();
                    marks.extend(
                        self.connected(arch, &printed).into_iter().map(|group| self.mark(arch, &group)),
                    );
                    marks[first..].sort_by(|one: &Mark, other: &Mark| {
                        one.tooth.cmp(&other.tooth).then(other.area_mm2.total_cmp(&one.area_mm2))
                    });
                }
            }
            all.extend(marks);
        }
        Ok(all)
    }

    /// Printed triangles put together where they share a printed edge, within a tooth. `printed` is in
    /// the order of triangles.
    fn connected<'p>(&self, arch: Arch, printed: &'p [Printed]) -> Vec<Vec<&'p Printed>> {
        let cast = self.cast(arch);
        let place = |triangle: u32| printed.binary_search_by_key(&triangle, |print| print.triangle).ok();
        let mut seen = vec![false; printed.len()];
        let mut groups = Vec::new();
        for start in 0..printed.len() {
            let mut group = Vec::new();
            let mut open = vec![start];
            while let Some(at) = open.pop() {
                if std::mem::replace(&mut seen[at], true) {
                    continue;
                }
                let print = &printed[at];
                group.push(print);
                for (next, edge) in cast.joins.across(print.triangle) {
                    let Some(place) = place(next).filter(|_| cast.tooth(next) == cast.tooth(print.triangle))
                    else {
                        continue;
                    };
                    // Each takes the distance at points of its own, of which either may be within the film.
                    let back =
                        |(one, edge): (u32, usize)| one == print.triangle && printed[place].edges[edge];
                    if print.edges[edge] || cast.joins.across(next).any(back) {
                        open.push(place);
                    }
                }
            }
            if !group.is_empty() {
                groups.push(group);
            }
        }
        groups
    }

    fn mark(&self, arch: Arch, group: &[&Printed]) -> Mark {
        let area_mm2 = group.iter().map(|print| print.area).sum::<f64>();
        let moment = group.iter().map(|print| print.moment).sum::<Vector3<f64>>();
        let first = group[0];
        let deepest =
            group.iter().fold(first, |best, print| if print.least < best.least { print } else { best });
        let place = |at: Vector3<f64>| match arch {
            Arch::Upper => CastPlace::Upper(UpperPoint::from_coords(at)),
            Arch::Lower => CastPlace::Lower(LowerPoint::from_coords(at)),
        };
        let mut triangles: Vec<u32> = group.iter().map(|print| print.triangle).collect();
        triangles.sort_unstable();
        Mark {
            arch,
            tooth: self.cast(arch).tooth(first.triangle),
            area_mm2,
            centroid: place(moment / area_mm2),
            deepest: place(deepest.deepest),
            gap: Length::from_mm(deepest.least),
            triangles,
        }
    }
}
