//! Where four feet stand on a screen, and what is left for words.
//!
//! Row 0 is the header's and the last row the "saved" line's. A foot in hand is drawn large; the four small ones beside it
//! keep their place, the one in hand too, because the place itself guards against the wrong leg.

use crate::claw_map::area::Area;
use crate::claw_map::mask::Size;
use crate::claw_map::picture::{FootPicture, View};
use crate::domain::anatomy::{Foot, Place};
use crate::domain::vocabulary::Vocabulary;

/// The map on a screen of a given size.
#[derive(Debug, Clone)]
pub enum Layout {
    /// Less than [`Layout::LEAST`]: no map.
    TooSmall,
    /// Feet and room for words.
    Map(MapLayout),
}

/// Feet on a screen.
#[derive(Debug, Clone)]
pub struct MapLayout {
    /// Every drawn foot; the one in hand first.
    pub feet: Vec<FootAt>,
    /// Room for words to the right of the map, and below the small feet.
    pub text: Area,
    /// Room for the animal's number in big figures: the head of that room, or above the small feet.
    pub number: Area,
    /// Columns left of that room that the toes leave free, and the row from which they do.
    pub spare: (u16, u16),
    /// Room for words under the map; no rows on most screens.
    pub below: Area,
}

/// One foot on the screen.
#[derive(Debug, Clone, Copy)]
pub struct FootAt {
    /// The drawing.
    pub picture: FootPicture,
    /// Where it stands, with its bar.
    pub area: Area,
    /// The first row of the drawing that is shown: where the words need the room, a small foot is its bar.
    pub first: u16,
}

/// What is shown of a small foot.
#[derive(Clone, Copy)]
enum Part {
    Whole,
    Bar,
}

/// Four feet of one size: what is shown of them, and (row, column) of LF RF LH RH.
struct Four(Size, Part, [(u16, u16); 4]);

/// What fits on a screen of at least this size.
struct Plan {
    cols: u16,
    rows: u16,
    /// The foot in hand, at row 1, column 0.
    hand: Option<Size>,
    /// All four, the one in hand too.
    four: Option<Four>,
    /// Row and column of the words.
    text: (u16, u16),
    /// Row of the number in big figures, in the column of the words, and rows for it.
    number: (u16, u16),
    /// Columns left of the words that the toes leave free, and the row from which they do.
    spare: (u16, u16),
}

/// No foot in hand; largest first.
const FOUR_FEET: [Plan; 3] = [
    Plan {
        cols: 100,
        rows: 38,
        hand: None,
        four: Some(Four(Size::L, Part::Whole, [(1, 0), (1, 41), (19, 0), (19, 41)])),
        text: (1, 81),
        number: (1, 9),
        spare: (0, 0),
    },
    Plan {
        cols: 80,
        rows: 24,
        hand: None,
        four: Some(Four(Size::S80, Part::Whole, [(1, 0), (1, 21), (12, 0), (12, 21)])),
        text: (1, 41),
        number: (1, 5),
        spare: (0, 0),
    },
    Plan {
        cols: 60,
        rows: 20,
        hand: None,
        four: Some(Four(Size::S60, Part::Whole, [(1, 0), (1, 20), (10, 0), (10, 20)])),
        text: (1, 40),
        number: (1, 4),
        spare: (0, 0),
    },
];

/// Room for a foot in hand, and for all that is said beside it.
const SPACIOUS: Plan = Plan {
    cols: 118,
    rows: 36,
    hand: Some(Size::XL),
    four: Some(Four(Size::S60, Part::Whole, [(1, 77), (1, 98), (10, 77), (10, 98)])),
    text: (20, 77),
    number: (20, 5),
    spare: (0, 0),
};

/// A foot in hand; largest first. At 60x20 there is no room for small feet.
const IN_HAND: [Plan; 3] = [
    SPACIOUS,
    Plan {
        cols: 80,
        rows: 24,
        hand: Some(Size::M),
        four: Some(Four(Size::XXS, Part::Whole, [(4, 54), (4, 67), (9, 54), (9, 67)])),
        text: (14, 52),
        number: (1, 3),
        spare: (0, 0),
    },
    Plan { cols: 60, rows: 20, hand: Some(Size::L), four: None, text: (1, 40), number: (1, 4), spare: (1, 9) },
];

/// A foot in hand for which something is to be read first: a size smaller where the words would have no room else.
const TO_READ: [Plan; 3] = [
    SPACIOUS,
    Plan {
        cols: 80,
        rows: 24,
        hand: Some(Size::L),
        four: Some(Four(Size::XXS, Part::Bar, [(20, 4), (20, 24), (21, 4), (21, 24)])),
        text: (1, 40),
        number: (1, 3),
        spare: (0, 0),
    },
    Plan { cols: 60, rows: 20, hand: Some(Size::S), four: None, text: (1, 36), number: (1, 3), spare: (0, 0) },
];

/// Two maps side by side, and the room around them.
#[derive(Debug, Clone)]
pub struct Pair {
    /// The earlier one and today's.
    pub maps: [MapLayout; 2],
    /// Column of each map's title, on row 1.
    pub titles: [u16; 2],
    /// Room to the right of both.
    pub side: Area,
    /// Room below both.
    pub below: Area,
}

/// What two maps take: the size of a foot, rows and columns between feet, and the column of the second map.
struct PairPlan {
    cols: u16,
    rows: u16,
    size: Size,
    feet: [(u16, u16); 4],
    second: u16,
    side: u16,
    below: u16,
}

/// Two maps; largest first. The row above them is that of their titles.
const PAIRS: [PairPlan; 2] = [
    PairPlan {
        cols: 108,
        rows: 34,
        size: Size::S80,
        feet: [(2, 0), (2, 21), (13, 0), (13, 21)],
        second: 42,
        side: 84,
        below: 25,
    },
    PairPlan {
        cols: 60,
        rows: 20,
        size: Size::XS,
        feet: [(2, 0), (2, 12), (8, 0), (8, 12)],
        second: 25,
        side: 50,
        below: 14,
    },
];

impl Pair {
    /// Two maps on a screen of that size; none where it is too small for any.
    pub fn for_screen(cols: u16, rows: u16, view: View) -> Option<Pair> {
        let plan = PAIRS.iter().find(|plan| plan.cols <= cols && plan.rows <= rows)?;
        let side = Area::new(1, plan.side, cols - plan.side, plan.below - 1);
        let below = Area::new(plan.below, 0, cols, rows - 1 - plan.below);
        let map = |col: u16| {
            let feet = Foot::ALL.iter().zip(plan.feet);
            let at = |(foot, (row, left)): (&Foot, (u16, u16))| {
                FootAt::new(FootPicture::of(plan.size, *foot, view), Part::Whole, (row, left + col))
            };
            MapLayout {
                feet: feet.map(at).collect(),
                text: side,
                number: Area { rows: 0, ..side },
                spare: (0, 0),
                below,
            }
        };
        Some(Pair { maps: [map(0), map(plan.second)], titles: [0, plan.second], side, below })
    }
}

impl Layout {
    /// Columns and rows that a map needs.
    pub const LEAST: (u16, u16) = (60, 20);

    /// The largest layout that fits, with that foot in hand.
    pub fn for_screen(cols: u16, rows: u16, in_hand: Option<Foot>, view: View) -> Self {
        Layout::of(if in_hand.is_some() { &IN_HAND } else { &FOUR_FEET }, (cols, rows), in_hand, view)
    }

    /// The same where much is to be read beside the foot in hand: so that the words have their room.
    pub fn to_read(cols: u16, rows: u16, in_hand: Foot, view: View) -> Self {
        Layout::of(&TO_READ, (cols, rows), Some(in_hand), view)
    }

    fn of(plans: &[Plan], (cols, rows): (u16, u16), in_hand: Option<Foot>, view: View) -> Self {
        match plans.iter().find(|plan| plan.cols <= cols && plan.rows <= rows) {
            Some(plan) => Layout::Map(plan.lay_out(cols, rows, in_hand, view)),
            None => Layout::TooSmall,
        }
    }

    /// The feet and rooms, unless the screen is too small.
    pub fn map(&self) -> Option<&MapLayout> {
        match self {
            Layout::TooSmall => None,
            Layout::Map(map) => Some(map),
        }
    }

    /// What a tap on that cell of the screen means; the place tells the foot.
    pub fn place_at(&self, col: u16, row: u16) -> Option<Place> {
        self.map()?.place_at(col, row)
    }
}

impl MapLayout {
    /// The zone, claw word or foot on that cell of the screen.
    pub fn place_at(&self, col: u16, row: u16) -> Option<Place> {
        let at = self.feet.iter().find(|at| at.area.contains(col, row))?;
        at.picture.place_at(col - at.area.col, row - at.area.row + at.first)
    }
}

impl FootAt {
    fn new(picture: FootPicture, part: Part, (row, col): (u16, u16)) -> Self {
        let first = match part {
            Part::Whole => 0,
            Part::Bar => picture.bar().row,
        };
        FootAt { picture, area: Area::new(row, col, picture.cols, picture.rows - first), first }
    }
}

impl Plan {
    fn lay_out(&self, cols: u16, rows: u16, in_hand: Option<Foot>, view: View) -> MapLayout {
        let drawn = |size, foot| FootPicture::of(size, foot, view);
        let hand = self.hand.zip(in_hand).map(|(size, foot)| FootAt::new(drawn(size, foot), Part::Whole, (1, 0)));
        let four = self.four.iter().flat_map(|Four(size, part, places)| {
            Foot::ALL.iter().zip(places).map(|(foot, place)| FootAt::new(drawn(*size, *foot), *part, *place))
        });
        let feet: Vec<FootAt> = hand.into_iter().chain(four).collect();
        let (row, col) = self.text;
        let under = feet.iter().filter(|at| at.area.col < col).map(|at| at.area.bottom()).max().unwrap_or(1);
        MapLayout {
            text: Area::new(row, col, cols - col, rows - 1 - row),
            number: Area::new(self.number.0, col, cols - col, self.number.1),
            spare: self.spare,
            below: Area::new(under, 0, col.saturating_sub(1), (rows - 1).saturating_sub(under)),
            feet,
        }
    }
}
