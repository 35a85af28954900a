//! Turns as they come in a working day, each with what must be recorded and how many keys that may cost.
//!
//! Wishes stand by the names of the table of intents. A number is typed on Today; what is quoted is written; `a|b+c` are two
//! ways to one thing, of which whoever plays takes the cheaper. From `(` on keys are counted.
//!
//! The targets of the first six are what the trade asks for: sixty animals a day leave a trimmer no more (common
//! practice). The others allow the keypad's two keys where a keyboard has one.

/// One turn.
pub struct Turn {
    /// What it is.
    pub name: &'static str,
    /// What was before: wishes, and the days that pass after each line of them.
    pub before: &'static [(&'static str, u64)],
    /// The turn.
    pub wishes: &'static str,
    /// No keymap may need more keys.
    pub target: u32,
    /// What must be written from the first counted key on, in words, and nothing else.
    pub writes: &'static [&'static str],
}

/// Put on before: a wrap over dermatitis at the right hind heel.
const WRAPPED: &str = "1382 go-on lift-rh zone-10 pick-1 pick-2 put-wrap|put-on+pick-2 pick-3 pick-0 \"Tom\" go-on pick-2 go-on \
                       rest-sound go-on";
/// Put on before: a block beside an ulcer at the left hind foot.
const BLOCKED: &str = "1382 go-on lift-lh zone-4 pick-1 pick-3 put-block|put-on+pick-1 pick-1 go-on rest-sound go-on";
/// Used earlier on the same day on another animal: a product, a kind of block, a colour, a person.
const USED: &str = "44 go-on lift-lh zone-4 pick-1 pick-3 put-dressing|put-on+pick-3 pick-0 \"green gel\" go-on \
                    put-block|put-on+pick-1 pick-1 put-wrap|put-on+pick-2 pick-3 pick-0 \"Tom\" go-on pick-2 go-on rest-sound go-on";
/// Found before and still there: an ulcer and a white line, each at another foot.
const MARKED: &str =
    "1382 go-on lift-lh zone-4 pick-1 pick-3 go-on lift-rh zone-2 pick-1 pick-1 go-on rest-sound go-on";

const ALL_FOUR: [&str; 4] = [
    "LF trimmed, all looked at",
    "RF trimmed, all looked at",
    "LH trimmed, all looked at",
    "RH trimmed, all looked at",
];

/// Every turn of the list.
pub const TURNS: &[Turn] = &[
    Turn {
        name: "routine, all four sound",
        before: &[],
        wishes: "1382 ( go-on all-sound go-on",
        target: 3,
        writes: &[ALL_FOUR[0], ALL_FOUR[1], ALL_FOUR[2], ALL_FOUR[3], "signed off"],
    },
    Turn {
        name: "one finding with its grade, in the crush",
        before: &[],
        wishes: "1382 go-on ( lift-lh zone-4 pick-1 pick-3",
        target: 4,
        writes: &["LH outer 4 sole ulcer", "severe"],
    },
    Turn {
        name: "heel erosion on both hinds",
        before: &[],
        wishes: "1382 ( go-on lift-lh find-hhe|zone-6+pick-1 pick-1 same-other-hind",
        target: 7,
        writes: &["LH outer 6 heel horn erosion", "light", "RH outer 6 heel horn erosion light"],
    },
    Turn {
        name: "emergency: three lesions, dry, dressing, wrap, block",
        before: &[(USED, 0), ("1382 left pick-5", 0)],
        wishes: "1382 ( go-on lift-lh zone-4 pick-1 pick-3 zone-2 pick-1 pick-2 zone-10 pick-1 pick-2 \
                 put-block|put-on+pick-1 put-on pick-8 pick-2 pick-1 go-on go-on",
        target: 20,
        writes: &[
            "LH outer 4 sole ulcer",
            "severe",
            "LH outer 2 white line disease",
            "moderate",
            "LH heel 10 digital dermatitis",
            "M2",
            "LH inner wood block",
            "LH heel 10 dressing green gel",
            "LH heel 10 blue wrap",
            "off by MON 4 May evening milking",
            "taken off by Tom",
            "LH trimmed, all looked at",
            "signed off: not-looked",
        ],
    },
    Turn {
        name: "recheck: a ring of the wrap found",
        before: &[(WRAPPED, 4)],
        wishes: "1382 ( go-on lift-rh pick-2 pick-2 zone-10 pick-3 go-on rest-sound go-on",
        target: 10,
        writes: &[
            "ring or part left, cut off now",
            "ring or part left, cut off now skin raw",
            "last time's mark: now M3",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "hinds only",
        before: &[],
        wishes: "1382 ( go-on hinds-sound go-on",
        target: 3,
        writes: &[ALL_FOUR[2], ALL_FOUR[3], "signed off: not-looked"],
    },
    Turn {
        name: "one mild haemorrhage",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-5 pick-1 pick-1 go-on rest-sound go-on",
        target: 8,
        writes: &[
            "LH outer 5 sole haemorrhage",
            "light",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "thin sole in front",
        before: &[],
        wishes: "1382 ( go-on lift-rf zone-5 pick-2 pick-2 go-on rest-sound go-on",
        target: 8,
        writes: &["RF inner 5 thin sole", "moderate", ALL_FOUR[1], ALL_FOUR[0], ALL_FOUR[2], ALL_FOUR[3], "signed off"],
    },
    Turn {
        name: "dermatitis with its stage",
        before: &[],
        wishes: "1382 ( go-on lift-rh zone-10 pick-1 pick-4 go-on rest-sound go-on",
        target: 8,
        writes: &[
            "RH heel 10 digital dermatitis",
            "M4",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "two old marks answered, all trimmed",
        before: &[(MARKED, 28)],
        wishes: "1382 ( go-on all-sound go-on next-ghost pick-1 next-ghost pick-1 go-on",
        target: 8,
        writes: &[
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            ALL_FOUR[3],
            "last time's mark: healed",
            "last time's mark: healed",
            "signed off",
        ],
    },
    Turn {
        name: "two old marks looked at foot by foot",
        before: &[(MARKED, 28)],
        wishes: "1382 ( go-on next-ghost pick-2 go-on next-ghost pick-3 go-on rest-sound go-on",
        target: 11,
        writes: &[
            "last time's mark: better",
            ALL_FOUR[2],
            "last time's mark: same",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            "signed off",
        ],
    },
    Turn {
        name: "one old mark, the foot in the hand",
        before: &[(MARKED, 28)],
        wishes: "1382 go-on ( lift-lh zone-4 pick-4 go-on",
        target: 4,
        writes: &["last time's mark: worse", ALL_FOUR[2]],
    },
    Turn {
        name: "she got away",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-4 pick-1 pick-3 got-away",
        target: 7,
        writes: &["LH outer 4 sole ulcer", "severe", "got away, her turn waits"],
    },
    Turn {
        name: "wrap called out to the farm, nothing typed",
        before: &[(USED, 0)],
        wishes: "1382 ( go-on lift-rh zone-10 pick-1 pick-2 put-wrap|put-on+pick-2 pick-3 pick-1 go-on rest-sound go-on",
        target: 12,
        writes: &[
            "RH heel 10 digital dermatitis",
            "M2",
            "RH heel 10 blue wrap",
            "off by TUE 5 May evening milking",
            "taken off by Tom",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "lame, nothing found",
        before: &[],
        wishes: "1382 ( go-on gait pick-2 all-sound go-on",
        target: 5,
        writes: &[
            "gait 2 on 0-3",
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            ALL_FOUR[3],
            "signed off: lame-nothing-found",
        ],
    },
    Turn {
        name: "the same on the other claw",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-2 pick-1 pick-1 same-other-claw go-on rest-sound go-on",
        target: 10,
        writes: &[
            "LH outer 2 white line disease",
            "light",
            "LH inner 2 white line disease light",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "a slip, undone",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-4 pick-2 undo zone-4 pick-3 pick-1 go-on rest-sound go-on",
        target: 11,
        writes: &[
            "LH outer 4 sole haemorrhage",
            "taken back",
            "LH outer 4 thin sole",
            "light",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "block due and taken off, the ulcer healed",
        before: &[(BLOCKED, 42)],
        // The key that lifts this foot closes nothing by itself: one different key more says that it was meant.
        wishes: "1382 ( go-on lift-lh pick-1 pick-0 zone-4 pick-1 go-on rest-sound go-on",
        target: 9,
        writes: &[
            "taken off",
            "last time's mark: healed",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "wrap off, the skin healed",
        before: &[(WRAPPED, 4)],
        wishes: "1382 ( go-on lift-rh pick-1 pick-1 zone-10 pick-0 go-on rest-sound go-on",
        target: 9,
        writes: &[
            "all off, seen bare",
            "all off, seen bare skin sound",
            "last time's mark: now M0",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "ulcer with a block",
        before: &[(USED, 0)],
        wishes: "1382 ( go-on lift-rh find-su|zone-4+pick-1 pick-3 put-block|put-on+pick-1 go-on rest-sound go-on",
        target: 10,
        writes: &[
            "RH outer 4 sole ulcer",
            "severe",
            "RH inner wood block",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "dermatitis with a dressing",
        before: &[(USED, 0)],
        wishes: "1382 ( go-on lift-rh zone-10 pick-1 pick-1 put-dressing|put-on+pick-3 go-on rest-sound go-on",
        target: 10,
        writes: &[
            "RH heel 10 digital dermatitis",
            "M1",
            "RH heel 10 dressing green gel",
            ALL_FOUR[3],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[2],
            "signed off",
        ],
    },
    Turn {
        name: "foul in the cleft, no grade",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-0 pick-2 go-on go-on rest-sound go-on",
        target: 8,
        writes: &[
            "LH cleft 0 foul (interdigital phlegmon)",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "a claw lowered",
        before: &[],
        wishes: "1382 ( go-on lift-lh zone-4 pick-2 pick-1 trim pick-2 go-on rest-sound go-on",
        target: 11,
        writes: &[
            "LH outer 4 sole haemorrhage",
            "light",
            "LH outer claw lowered",
            ALL_FOUR[2],
            ALL_FOUR[0],
            ALL_FOUR[1],
            ALL_FOUR[3],
            "signed off",
        ],
    },
    Turn {
        name: "the front wall measured",
        before: &[],
        wishes: "1382 ( go-on lift-lh measure pick-1 \"76\" go-on go-on rest-sound go-on",
        target: 13,
        writes: &["LH outer front wall 76 mm", ALL_FOUR[2], ALL_FOUR[0], ALL_FOUR[1], ALL_FOUR[3], "signed off"],
    },
    Turn {
        name: "a vet call advised",
        before: &[],
        wishes: "1382 go-on ( lift-rh vet pick-1 go-on",
        target: 6,
        writes: &["RH outer VET: vet advised", ALL_FOUR[3]],
    },
    Turn {
        name: "a kicker",
        before: &[],
        wishes: "1382 ( go-on whole pick-1 hinds-sound go-on",
        target: 5,
        writes: &["kicks", ALL_FOUR[2], ALL_FOUR[3], "signed off: not-looked"],
    },
    Turn {
        name: "nobody listed her",
        before: &[],
        wishes: "2044 ( add all-sound go-on",
        target: 4,
        writes: &["new animal 2044", ALL_FOUR[0], ALL_FOUR[1], ALL_FOUR[2], ALL_FOUR[3], "signed off"],
    },
];

/// A day of sixty: how many of the list's turns, by name.
pub const DAY: &[(&str, usize)] = &[
    ("routine, all four sound", 40),
    ("hinds only", 4),
    ("one mild haemorrhage", 6),
    ("dermatitis with its stage", 5),
    ("the same on the other claw", 2),
    ("foul in the cleft, no grade", 1),
    ("lame, nothing found", 2),
];

/// No keymap may need more keys for that day, numbers not counted: five an animal.
pub const DAY_TARGET: u32 = 300;
