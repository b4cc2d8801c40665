//! Many linkages that nobody packed, at one travel, in one pass: each core takes a stretch of them, puts their numbers side by
//! side by recipe, and asks each pack as it is full. Bit for bit what each gives alone.

use std::borrow::Borrow;
use std::hint::black_box;

use super::packed::{DATUM, FULL_TRAVEL, Plan};
use super::{LinkageFamily, Row};
use crate::linkage::Linkage;
use crate::linkage::block::{Block, LANES, Lanes, Results};
use crate::linkage::columns::{Columns, ROWS, row};
use crate::linkage::motion::has;
use crate::parallel;

/// Linkages in a stretch: enough to hide the hand-over to another core, and to fill packs of a few recipes.
const STRETCH: usize = 16 * LANES;
/// A pack of fewer is asked one by one: it is paid for in full.
const FEW: usize = 7;

/// A stretch of the linkages, the place of its first among all, and where its results go.
struct Stretch<'a, L> {
    linkages: &'a [L],
    columns: Columns<'a>,
    first: usize,
    /// Those that have no row.
    others: Vec<usize>,
}

/// A pack that is being filled.
struct Filling {
    recipe: u128,
    plan: Plan,
    numbers: Vec<Lanes>,
    /// Places in the stretch.
    places: Vec<usize>,
}

/// Every linkage at one travel, into columns as long as they are many; NaN for one that does not have it.
pub(in crate::linkage) fn at_once<L: Borrow<Linkage> + Sync>(linkages: &[L], travel: f64, columns: &mut Columns<'_>) {
    let mut stretches = Vec::with_capacity(linkages.len().div_ceil(STRETCH));
    let mut rest = columns.part(0, linkages.len());
    for (at, linkages) in linkages.chunks(STRETCH).enumerate() {
        let (here, after) = rest.split_at(linkages.len());
        stretches.push(Stretch { linkages, columns: here, first: at * STRETCH, others: Vec::new() });
        rest = after;
    }
    parallel::each_mut(&mut stretches, |stretch| stretch.fill(travel));
    let others: Vec<usize> =
        stretches.iter().flat_map(|stretch| stretch.others.iter().map(|at| stretch.first + at)).collect();
    if others.is_empty() {
        return;
    }
    let motions = others.iter().map(|&place| {
        let linkage: &Linkage = linkages[place].borrow();
        Some((&linkage.motion, &linkage.row))
    });
    let found = LinkageFamily::of_motions(motions).bare(&vec![travel; others.len()]);
    for (to, from) in columns.by_place().into_iter().zip(&found) {
        others.iter().zip(from).for_each(|(&place, found)| to[place] = *found);
    }
}

impl<L: Borrow<Linkage>> Stretch<'_, L> {
    fn fill(&mut self, travel: f64) {
        let linkages = self.linkages;
        let mut filling: Vec<Filling> = Vec::new();
        let mut blocks: Vec<Block> = Vec::new();
        let mut last = 0;
        for (place, linkage) in linkages.iter().enumerate() {
            if place % LANES == 0 {
                ahead(&linkages[place..linkages.len().min(place + LANES)]);
            }
            let linkage: &Linkage = linkage.borrow();
            let Some(recipe) = linkage.row.recipe() else {
                self.others.push(place);
                continue;
            };
            if filling.get(last).is_none_or(|pack| pack.recipe != recipe) {
                last = match filling.iter().position(|pack| pack.recipe == recipe) {
                    Some(known) => known,
                    None => {
                        // A row is of a linkage without a group.
                        let Some(plan) = Plan::of(&linkage.motion) else { continue };
                        blocks.resize(blocks.len().max(plan.slots), Block::ZERO);
                        let numbers = vec![[0.0; LANES]; plan.numbers];
                        filling.push(Filling { recipe, plan, numbers, places: Vec::with_capacity(LANES) });
                        filling.len() - 1
                    }
                };
            }
            if let Some(pack) = filling.get_mut(last) {
                pack.take(place, &linkage.row);
                if pack.places.len() == LANES {
                    pack.ask(travel, &mut blocks, &mut self.columns);
                }
            }
        }
        for pack in &mut filling {
            if pack.places.len() < FEW {
                for &place in &pack.places {
                    let motion = &linkages[place].borrow().motion;
                    let found = if motion.has(travel) { row(&motion.at(travel)) } else { [f64::NAN; ROWS] };
                    self.columns.by_place().into_iter().zip(found).for_each(|(to, found)| to[place] = found);
                }
            } else {
                pack.ask(travel, &mut blocks, &mut self.columns);
            }
        }
    }
}

/// Has the rows of linkages on their way before they are wanted: made one by one, they lie apart, and memory answers many
/// questions in the time of one when none waits for another.
fn ahead<L: Borrow<Linkage>>(linkages: &[L]) {
    let seen = linkages.iter().fold(0, |seen, linkage| seen ^ linkage.borrow().row.glance());
    black_box(seen);
}

impl Filling {
    #[inline]
    fn take(&mut self, place: usize, row: &Row) {
        let lane = self.places.len();
        if let Some(numbers) = row.numbers().filter(|_| lane < LANES) {
            self.numbers.iter_mut().zip(numbers).for_each(|(to, number)| to[lane] = *number);
            self.places.push(place);
        }
    }

    /// Asks the pack as it is, and empties it. Lanes beyond its linkages hold some of before, or nothing; nobody looks at them.
    fn ask(&mut self, travel: f64, blocks: &mut [Block], columns: &mut Columns<'_>) {
        let heights: Lanes = self.numbers[DATUM].map(|datum| datum + travel);
        self.plan.run(&self.numbers, &heights, blocks);
        let mut found = Results::ZERO;
        self.plan.results(&self.numbers, blocks, &mut found);
        for lane in (0..self.places.len()).filter(|&lane| !has(self.numbers[FULL_TRAVEL][lane], travel)) {
            found.put_all(lane, [f64::NAN; ROWS]);
        }
        for (of, to) in columns.by_place().into_iter().enumerate() {
            super::asked::put_rows(&self.places, found.row(of), to);
        }
        self.places.clear();
    }
}
