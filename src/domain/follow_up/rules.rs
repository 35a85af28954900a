//! The rules as data: every number of days, and of millimetres, in one table, each with its source. A practice and a farm may set their own; the
//! text they adopted is a record, and a changed rule changes the list at once.

use crate::domain::history::History;
use crate::domain::ids::FarmId;
use crate::domain::treatment::BlockKind;
use std::collections::BTreeMap;

/// The rules in force: the practice's, and those of farms that have their own.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rules {
    /// The practice's.
    pub practice: RuleSet,
    /// Of single farms, whole sets each.
    pub farms: BTreeMap<FarmId, RuleSet>,
}

impl Rules {
    /// The rules of an animal's farm.
    pub fn of_her(&self, history: &History) -> &RuleSet {
        history.farm.map_or(&self.practice, |farm| self.of(farm))
    }

    /// How many days a place may go unseen on a farm before what is found there is another case.
    pub fn window(&self, farm: Option<FarmId>) -> u16 {
        farm.map_or(&self.practice, |farm| self.of(farm)).case.window
    }

    /// What differs on a farm from the practice's, in the order of the table.
    pub fn differing(&self, farm: FarmId) -> Vec<Differs> {
        let own = self.of(farm);
        let differs = |rule: &Rule| {
            let (practice, own) = (rule.get(&self.practice), rule.get(own));
            (practice != own).then_some(Differs { section: rule.section, name: rule.name, practice, own })
        };
        RULES.iter().filter_map(differs).collect()
    }

    /// The rules of a farm.
    pub fn of(&self, farm: FarmId) -> &RuleSet {
        self.farms.get(&farm).unwrap_or(&self.practice)
    }
}

/// A rule that a farm has for itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Differs {
    /// Section.
    pub section: &'static str,
    /// Name in its section.
    pub name: &'static str,
    /// What it is elsewhere.
    pub practice: u16,
    /// What it is here.
    pub own: u16,
}

/// One whole set of rules, in days but where a field says otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleSet {
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
    /// Looks that hang on something else.
    pub look: LookRules,
    /// Cases.
    pub case: CaseRules,
    /// Routine trims.
    pub routine: RoutineRules,
    /// Days after which an animal is overdue for a trim.
    pub overdue: u16,
    /// Days after which an animal that nobody saw or told anything of is asked about, and not expected.
    pub still_here: u16,
    /// Standing instructions.
    pub instruction: InstructionRules,
    /// The least sole that is left at the toe, in millimetres.
    pub sole: u16,
}

/// A wrap, in days after it was put on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct WrapRule {
    /// Off within.
    pub off: u16,
    /// Late after.
    pub late: u16,
    /// Urgent after.
    pub urgent: u16,
}

/// A block, in days after it was put on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
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
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RecheckRules {
    /// Sole or bulb ulcer.
    pub ulcer: u16,
    /// Sole or bulb ulcer that is necrotic, deep or infected with digital dermatitis.
    pub ulcer_deep: u16,
    /// Toe ulcer.
    pub toe_ulcer: u16,
    /// White line abscess.
    pub abscess: u16,
    /// White line fissure, moderate or worse, or where she is lame.
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

/// Looks that hang on something else than a finding, in days.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct LookRules {
    /// Until raw skin, or a claw whose block was lost early, is looked at again.
    pub raw_skin: u16,
    /// Between looks at a block on a dry animal.
    pub dry_block: u16,
    /// Lame, until she is looked at.
    pub lame: u16,
    /// Very lame, until she is looked at.
    pub very_lame: u16,
    /// Very lame for longer is the vet's.
    pub severe: u16,
    /// After which looks at findings that nobody saw to fold into one line a farm.
    pub unseen: u16,
}

/// Routine trims, in days.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RoutineRules {
    /// After drying off, a trim is due within these.
    pub dry_off: u16,
    /// From so many in milk a trim is due.
    pub milk_from: u16,
    /// Up to so many.
    pub milk_to: u16,
    /// From so many before calving a trim is offered.
    pub before: u16,
    /// From so many before calving none is done any more.
    pub calving: u16,
    /// A trim that was done counts for so many.
    pub again: u16,
}

/// Standing instructions of a farm, in days.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct InstructionRules {
    /// Looked at again within so many after it was given or looked at last.
    pub review: u16,
    /// Late after so many more.
    pub late: u16,
}

/// What is one case and what is another, in days.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct CaseRules {
    /// Found anew after more days unseen, it is another case.
    pub window: u16,
    /// How long a case counts when the next ones at the same claw or zone are counted.
    pub repeat: u16,
    /// Dermatitis that comes again within these days of healed has come back.
    pub back: u16,
}

/// One rule: where it stands in a file, its default and where that comes from.
pub struct Rule {
    /// Section of the file.
    pub section: &'static str,
    /// Name in its section.
    pub name: &'static str,
    /// Default, in days; in millimetres where its name says `mm`.
    pub days: u16,
    /// What it is, and where the default comes from.
    pub source: &'static str,
    field: fn(&mut RuleSet) -> &mut u16,
}

impl Rule {
    /// Its days in a set.
    pub fn get(&self, set: &RuleSet) -> u16 {
        *(self.field)(&mut set.clone())
    }

    /// Sets its days.
    pub fn set(&self, set: &mut RuleSet, days: u16) {
        *(self.field)(set) = days;
    }
}

const fn rule(
    section: &'static str,
    name: &'static str,
    days: u16,
    field: fn(&mut RuleSet) -> &mut u16,
    source: &'static str,
) -> Rule {
    Rule { section, name, days, source, field }
}

/// Every rule, in the order in which a file prints them. No number of days is written anywhere else.
#[rustfmt::skip]
pub const RULES: &[Rule] = &[
    rule("wrap", "off", 3, |set| &mut set.wrap.off, "a few days, then open: proceedings on lameness, from memory; 24 to 72 h is common practice"),
    rule("wrap", "late", 5, |set| &mut set.wrap.late, "trials with somebody booked to come back: 5, 7, 10 days"),
    rule("wrap", "urgent", 7, |set| &mut set.wrap.urgent, "one left about a month cut into bulb and coronet: case report"),

    rule("block", "look", 14, |set| &mut set.hard_block.look, "next visit or 14 days: common practice"),
    rule("block", "again", 28, |set| &mut set.hard_block.again, "recheck at 4 weeks: AHDB"),
    rule("block", "off", 42, |set| &mut set.hard_block.off, "4 to 6 weeks: University of Minnesota; 6: a New Zealand school"),
    rule("block", "urgent", 56, |set| &mut set.hard_block.urgent, "8 weeks at most: a supply how-to"),

    rule("foam", "look", 14, |set| &mut set.foam.look, "falls by itself at 7 to 20 days: a German trial"),
    rule("foam", "again", 14, |set| &mut set.foam.again, "falls by itself at 7 to 20 days: a German trial"),
    rule("foam", "off", 21, |set| &mut set.foam.off, "falls by itself at 7 to 20 days: a German trial"),
    rule("foam", "urgent", 56, |set| &mut set.foam.urgent, "as other blocks"),

    rule("shoe", "look", 28, |set| &mut set.shoe.look, "recheck at 28: Bell, AHDB 2021"),
    rule("shoe", "again", 28, |set| &mut set.shoe.again, "recheck at 28: Bell, AHDB 2021"),
    rule("shoe", "off", 42, |set| &mut set.shoe.off, "must be taken off at 42: Bell, AHDB 2021"),
    rule("shoe", "urgent", 56, |set| &mut set.shoe.urgent, "as other blocks"),

    rule("recheck", "ulcer", 28, |set| &mut set.recheck.ulcer, "horn closed in 25, 33, 42 days, slight to severe: 74 cows"),
    rule("recheck", "ulcer-deep", 7, |set| &mut set.recheck.ulcer_deep, "necrotic, deep or infected: common practice"),
    rule("recheck", "toe-ulcer", 10, |set| &mut set.recheck.toe_ulcer, "sooner than a sole ulcer: common practice"),
    rule("recheck", "abscess", 14, |set| &mut set.recheck.abscess, "median 7 days to not lame, 18 to sound: New Zealand"),
    rule("recheck", "fissure", 28, |set| &mut set.recheck.fissure, "white line, moderate or worse, or lame: New Zealand"),
    rule("recheck", "deep", 7, |set| &mut set.recheck.deep, "deep axial fissure, swelling, infected horn: common practice"),
    rule("recheck", "thin-sole", 28, |set| &mut set.recheck.thin_sole, "common practice"),
    rule("recheck", "dermatitis", 7, |set| &mut set.recheck.dermatitis, "active stages; trials looked at 7, 14, 21 days"),
    rule("recheck", "foul", 3, |set| &mut set.recheck.foul, "no better in 3 days: suspect the joint"),

    rule("look", "raw-skin", 3, |set| &mut set.look.raw_skin, "also a claw whose block was lost early: common practice"),
    rule("look", "dry-block", 7, |set| &mut set.look.dry_block, "a block on a dry animal is looked at every week: common practice"),
    rule("look", "lame", 2, |set| &mut set.look.lame, "score 2 of 0-3 within 48 h: DairyNZ 2023; later raised lameness: Barker et al. 2010; on 1-5: common practice"),
    rule("look", "very-lame", 1, |set| &mut set.look.very_lame, "score 3 of 0-3 within 24 h: DairyNZ 2023; 4 and 5 of 1-5: common practice"),
    rule("look", "severe", 14, |set| &mut set.look.severe, "severe lameness over 14 days is the vet's: stop signs"),
    rule("look", "unseen", 90, |set| &mut set.look.unseen, "looks nobody saw to fold into one line: common practice"),

    rule("case", "window", 35, |set| &mut set.case.window, "found anew after more days unseen is another case; looked at again on day 35: Thomas et al. 2015"),
    rule("case", "repeat", 365, |set| &mut set.case.repeat, "the third at one claw or zone within these days is said: common practice"),
    rule("case", "back", 60, |set| &mut set.case.back, "dermatitis again so soon after healed is said: common practice"),

    rule("routine", "dry-off", 30, |set| &mut set.routine.dry_off, "trims at dry-off: an ordinary schedule; within these days of it: common practice"),
    rule("routine", "milk-from", 60, |set| &mut set.routine.milk_from, "trims at 60 to 150 days in milk: an ordinary schedule"),
    rule("routine", "milk-to", 150, |set| &mut set.routine.milk_to, "trims at 60 to 150 days in milk: an ordinary schedule"),
    rule("routine", "before-calving", 60, |set| &mut set.routine.before, "offered from so long before calving: common practice"),
    rule("routine", "none-before-calving", 28, |set| &mut set.routine.calving, "odds of abortion 2.4 after trims so late, 1.48 million pregnancies; routine trims only"),
    rule("routine", "again", 60, |set| &mut set.routine.again, "a trim counts for so long: common practice"),

    rule("trim", "overdue", 180, |set| &mut set.overdue, "twice a year: common practice"),
    rule("trim", "still-here", 730, |set| &mut set.still_here, "nobody saw or told anything of her for two years: asked whether she is still here, and not expected: common practice"),

    rule("instruction", "review", 90, |set| &mut set.instruction.review, "a standing instruction is looked at again within 90 days: common practice"),
    rule("instruction", "late", 14, |set| &mut set.instruction.late, "after its review day; a visit every fortnight is the commonest: common practice"),

    rule("sole", "least-mm", 5, |set| &mut set.sole, "at the toe; 5 mm critical, 7 mm protective: Tsuka et al., 800 claws by CT, from memory"),
];

/// Rules that must not come before others: section, the earlier, the later.
pub const ORDER: &[(&str, &str, &str)] = &[
    ("wrap", "off", "late"),
    ("wrap", "late", "urgent"),
    ("block", "look", "again"),
    ("block", "again", "off"),
    ("block", "off", "urgent"),
    ("foam", "look", "again"),
    ("foam", "again", "off"),
    ("foam", "off", "urgent"),
    ("shoe", "look", "again"),
    ("shoe", "again", "off"),
    ("shoe", "off", "urgent"),
    ("routine", "milk-from", "milk-to"),
    ("trim", "overdue", "still-here"),
    ("routine", "none-before-calving", "before-calving"),
];

/// Most days that a rule can say: ten years.
pub const MOST: u16 = 3650;

/// The rule of that name.
pub fn named(section: &str, name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.section == section && rule.name == name)
}

impl Default for RuleSet {
    fn default() -> RuleSet {
        let mut set = RuleSet {
            wrap: WrapRule::default(),
            hard_block: BlockRule::default(),
            foam: BlockRule::default(),
            shoe: BlockRule::default(),
            recheck: RecheckRules::default(),
            look: LookRules::default(),
            case: CaseRules::default(),
            routine: RoutineRules::default(),
            overdue: 0,
            still_here: 0,
            instruction: InstructionRules::default(),
            sole: 0,
        };
        for rule in RULES {
            rule.set(&mut set, rule.days);
        }
        set
    }
}

impl RuleSet {
    /// The rule for a kind of block.
    pub fn block(&self, kind: BlockKind) -> &BlockRule {
        match kind {
            BlockKind::Wood | BlockKind::Rubber | BlockKind::Plastic | BlockKind::NotTold => &self.hard_block,
            BlockKind::Foam => &self.foam,
            BlockKind::Shoe => &self.shoe,
        }
    }

    /// Pairs of rules in the wrong order: section, the one that is later than it may be, and the one it comes after.
    pub fn misordered(&self) -> Vec<(&'static str, &'static str, &'static str)> {
        let days = |section: &str, name: &str| named(section, name).map_or(0, |rule| rule.get(self));
        let wrong = |(section, earlier, later): &&(&'static str, &'static str, &'static str)| {
            days(section, earlier) > days(section, later)
        };
        ORDER.iter().filter(wrong).copied().collect()
    }
}
