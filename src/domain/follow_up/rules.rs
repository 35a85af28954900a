//! The rules as data: every default in days, each with its source. A practice and a farm may set their own.

use crate::domain::treatment::BlockKind;

/// Rules for everything that is followed up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rules {
    /// Wraps.
    pub wrap: WrapRule,
    /// Wood, rubber, plastic and what was not told.
    pub hard_block: BlockRule,
    /// Foam, which falls by itself.
    pub foam: BlockRule,
    /// A shoe that encloses the toe; never assumed to have fallen off.
    pub shoe: BlockRule,
    /// Findings.
    pub recheck: RecheckRules,
    /// Days until raw skin, or a claw whose block was lost early, is looked at again. 3: common practice.
    pub raw_skin: u16,
    /// Days after which looks at findings that nobody saw fold into one line a farm. 90: common practice.
    pub unseen: u16,
}

/// A wrap, in days after it was put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WrapRule {
    /// Off within.
    pub off: u16,
    /// Late after.
    pub late: u16,
    /// Urgent after.
    pub urgent: u16,
}

/// A block, in days after it was put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BlockRule {
    /// Look at the next visit or by this day.
    pub look: u16,
    /// Look again by this day.
    pub again: u16,
    /// Off by.
    pub off: u16,
    /// Urgent after.
    pub urgent: u16,
}

/// Findings, in days after they were last looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RecheckRules {
    /// Sole or bulb ulcer.
    pub ulcer: u16,
    /// Sole or bulb ulcer that is necrotic, deep or infected with digital dermatitis.
    pub ulcer_deep: u16,
    /// Toe ulcer.
    pub toe_ulcer: u16,
    /// White line abscess.
    pub abscess: u16,
    /// White line fissure, moderate or worse.
    pub fissure: u16,
    /// Deep axial fissure, swelling, a horn lesion infected with digital dermatitis.
    pub deep: u16,
    /// Thin sole.
    pub thin_sole: u16,
    /// Active digital dermatitis.
    pub dermatitis: u16,
    /// Foul: told to the farm today, looked at after this.
    pub foul: u16,
}

impl Default for Rules {
    fn default() -> Rules {
        Rules {
            // "A few days, then open": proceedings on lameness, quoted from memory of the abstract. Trials with somebody
            // booked to come back: 5, 7, 10 days. One left about a month cut into bulb and coronet (case report).
            wrap: WrapRule { off: 3, late: 5, urgent: 7 },
            // Look at the next visit or 14 days: common practice. Recheck at 4 weeks: AHDB. Off at 4 to 6 weeks: Univ.
            // Minnesota; 6: a New Zealand school; 8 at most: a supply how-to.
            hard_block: BlockRule { look: 14, again: 28, off: 42, urgent: 56 },
            // Fell by itself at 7 to 20 days in a German trial.
            foam: BlockRule { look: 14, again: 14, off: 21, urgent: 56 },
            // Recheck 28, must be taken off at 42: Bell, AHDB 2021.
            shoe: BlockRule { look: 28, again: 28, off: 42, urgent: 56 },
            recheck: RecheckRules {
                // Horn closed in 25, 33, 42 days (slight, moderate, severe; 74 cows); common practice.
                ulcer: 28,
                // Common practice.
                ulcer_deep: 7,
                // Sooner than a sole ulcer: common practice.
                toe_ulcer: 10,
                // New Zealand: median 7 days to not lame, 18 to sound.
                abscess: 14,
                fissure: 28,
                // Common practice.
                deep: 7,
                // Common practice.
                thin_sole: 28,
                // Trials looked at 7, 14, 21 days.
                dermatitis: 7,
                // No better in 3 days: suspect the joint.
                foul: 3,
            },
            raw_skin: 3,
            unseen: 90,
        }
    }
}

impl Rules {
    /// The rule for a kind of block.
    pub fn block(&self, kind: BlockKind) -> &BlockRule {
        match kind {
            BlockKind::Wood | BlockKind::Rubber | BlockKind::Plastic | BlockKind::NotTold => &self.hard_block,
            BlockKind::Foam => &self.foam,
            BlockKind::Shoe => &self.shoe,
        }
    }
}
