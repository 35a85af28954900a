//! The tables of the trade against trade.md: zones, owners, findings, where each can be.

use crushbook::domain::anatomy::{Foot, Place, Side, Tissue, Zone, ZoneMap};
use crushbook::domain::finding::{FINDINGS, Finding, Level, Scale, Stage};
use crushbook::domain::herd::Status;
use crushbook::domain::ids::{AnimalId, RecordId};
use crushbook::domain::practice::Region;
use crushbook::domain::treatment::GaitScale;
use crushbook::domain::visit_sum::InMilk;
use crushbook::domain::vocabulary::Vocabulary;
use crushbook::report::words::{self, Term, Words};

#[test]
fn thirteen_zones_with_tissue_and_owner() {
    // Shearer, Anderson, Ayars et al. 2004, Bovine Practitioner 38; lameness committee poster 2008. 7 8 9 11 12 from memory.
    let skin = [0, 9, 10];
    let sole = [1, 2, 3, 4, 5];
    let wall = [7, 8, 11, 12];
    for number in 0..=12 {
        let zone = Zone::from_number(number).expect("zones 0 to 12 exist");
        assert_eq!(zone.number(), number);
        assert_eq!(zone.map(), ZoneMap::C);
        let tissue = match number {
            n if skin.contains(&n) => Tissue::Skin,
            n if sole.contains(&n) => Tissue::Sole,
            n if wall.contains(&n) => Tissue::Wall,
            _ => Tissue::Heel,
        };
        assert_eq!(zone.tissue(), tissue, "zone {number}");
        let place = zone.on(Foot::LeftHind, Side::Inner);
        let owner_is_claw = place.side().is_some();
        assert_eq!(owner_is_claw, !skin.contains(&number), "zone {number}");
    }
    assert_eq!(Zone::from_number(13), None);
}

#[test]
fn load_falls_outer_behind_and_inner_in_front() {
    // van der Tol et al. 2002, J Dairy Sci 85:1476.
    for foot in Foot::ALL {
        let expected = if foot.is_hind() { Side::Outer } else { Side::Inner };
        assert_eq!(foot.likely_claw(), expected);
    }
}

#[test]
fn every_finding_has_one_row_with_its_zones() {
    for finding in Finding::ALL {
        assert_eq!(FINDINGS.iter().filter(|row| row.finding == *finding).count(), 1, "{finding:?}");
    }
    // ICAR Claw Health Atlas 2015 / 2020 codes from memory; zones from the poster and Shearer 2004, fissures from memory.
    for (code, zones) in [
        ("DD", vec![0, 9, 10]),
        ("ID", vec![0, 10]),
        ("IH", vec![0]),
        ("IP", vec![0, 9]),
        ("SW", vec![9, 10]),
        ("DS", vec![4, 5, 6]),
        ("TS", vec![4, 5]),
        ("HHE", vec![6]),
        ("HFA", vec![11, 12]),
        ("HFH", vec![7, 8, 11, 12]),
        ("HFV", vec![7, 8]),
        ("SHD", vec![1, 2, 3, 4, 5, 6]),
        ("SHC", vec![1, 2, 3, 4, 5, 6]),
        ("SU", vec![4]),
        ("BU", vec![6]),
        ("TU", vec![1, 5]),
        ("TN", vec![1, 5]),
        ("WLF", vec![1, 2, 3]),
        ("WLA", vec![1, 2, 3]),
        ("AC", vec![]),
        ("CD", vec![]),
        ("CC", vec![]),
        ("SC", vec![]),
    ] {
        let finding = Finding::from_word(code).expect(code);
        let mut own: Vec<u8> = finding.row().zones.to_vec();
        own.sort_unstable();
        assert_eq!(own, zones, "{code}");
        for zone in Zone::all() {
            let can = finding.can_be_at(zone.on(Foot::LeftHind, Side::Outer));
            assert_eq!(can, zones.contains(&zone.number()), "{code} in {}", zone.number());
        }
    }
}

#[test]
fn whole_feet_and_claws_are_places_too() {
    let foot = Place::Foot(Foot::LeftHind);
    let claw = Place::Claw(Foot::LeftHind, Side::Outer);
    for (finding, at_foot, at_claw) in [
        (Finding::AC, true, false),
        (Finding::SC, true, false),
        (Finding::CC, false, true),
        (Finding::CD, false, true),
        (Finding::SU, false, false),
    ] {
        assert_eq!((finding.can_be_at(foot), finding.can_be_at(claw)), (at_foot, at_claw), "{finding:?}");
    }
}

#[test]
fn the_zone_decides_of_the_code_what_it_can() {
    // trade.md section 2: an ulcer in 4 is SU, in 6 BU, in 1 or 5 TU; a fissure in 11 or 12 may still be horizontal.
    for (zone, code) in [(4, Finding::SU), (6, Finding::BU), (1, Finding::TU), (5, Finding::TU)] {
        assert_eq!(Finding::U.told_by(Zone::from_number(zone).expect("zone")), code);
    }
    for (group, zone) in [(Finding::SH, 4), (Finding::WL, 2), (Finding::HF, 7), (Finding::HF, 11)] {
        assert_eq!(group.told_by(Zone::from_number(zone).expect("zone")), group, "not decided by the zone");
    }
}

#[test]
fn groups_count_their_subtypes_once() {
    for (subtype, group) in [
        (Finding::SHD, Finding::SH),
        (Finding::SHC, Finding::SH),
        (Finding::WLF, Finding::WL),
        (Finding::WLA, Finding::WL),
        (Finding::HFA, Finding::HF),
        (Finding::SU, Finding::U),
        (Finding::TS, Finding::TS),
    ] {
        assert_eq!(subtype.group(), group);
    }
}

#[test]
fn infection_flag_is_for_open_horn_lesions() {
    // trade.md section 2: a flag on SU, BU, TU, WLF, WLA, TN, HFA.
    let flagged: Vec<&str> = FINDINGS.iter().filter(|row| row.infectable).map(|row| row.finding.word()).collect();
    let mut expected = vec!["SU", "BU", "TU", "WLF", "WLA", "TN", "HFA"];
    let mut own = flagged.clone();
    expected.sort_unstable();
    own.sort_unstable();
    assert_eq!(own, expected);
}

#[test]
fn dermatitis_has_stages_and_belongs_to_the_foot() {
    let row = Finding::DD.row();
    assert_eq!((row.scale, row.level), (Scale::Stage, Level::Foot));
    // Active = M1, M2, M4.1 (Doepfer et al. 1997; Berry et al. 2012).
    let active: Vec<&str> = Stage::ALL.iter().filter(|stage| stage.is_active()).map(|stage| stage.word()).collect();
    assert_eq!(active, ["M1", "M2", "M4.1"]);
}

#[test]
fn lame_on_each_scale() {
    // UK mobility score 0-3: 2 or more; Sprecher et al. 1997 1-5: 3 or more.
    assert_eq!((0..=3).filter(|score| GaitScale::ZeroToThree.is_lame(*score)).collect::<Vec<u8>>(), [2, 3]);
    assert_eq!((1..=5).filter(|score| GaitScale::OneToFive.is_lame(*score)).collect::<Vec<u8>>(), [3, 4, 5]);
}

#[test]
fn words_and_numbers_of_a_vocabulary_are_its_own() {
    fn own<T: Vocabulary>() {
        for (index, member) in T::ALL.iter().enumerate() {
            for other in &T::ALL[index + 1..] {
                assert_ne!(member.number(), other.number(), "{} {member:?} {other:?}", T::NAME);
                assert!(!member.word().eq_ignore_ascii_case(other.word()), "{} {member:?} {other:?}", T::NAME);
            }
            assert_eq!(T::from_number(member.number()), Some(*member));
            assert_eq!(T::from_word(member.word()), Some(*member));
        }
    }
    own::<Foot>();
    own::<Side>();
    own::<Finding>();
    own::<Stage>();
    own::<crushbook::domain::treatment::Off>();
    own::<crushbook::domain::treatment::BlockKind>();
    own::<crushbook::domain::treatment::Colour>();
    own::<crushbook::domain::treatment::Sign>();
    own::<crushbook::domain::event::Gap>();
    own::<crushbook::domain::herd::FarmFact>();
    own::<crushbook::domain::follow_up::What>();
}

#[test]
fn regions_say_their_own_words() {
    // Common practice of the trade; "R" alone is ambiguous, so farm papers say BACK LEFT everywhere.
    let table = [
        (Term::Crush, ["crush", "crush", "chute", "crush"]),
        (Term::Wrap, ["wrap", "bandage", "wrap", "bandage"]),
        (Term::Hind, ["hind", "hind", "rear", "hind"]),
        (Term::LeftHind, ["LH", "LH", "LR", "LH"]),
        (Term::RightHind, ["RH", "RH", "RR", "RH"]),
        (Term::Gait, ["gait", "mobility", "locomotion", "lameness"]),
        (Term::Foul, ["foul", "foul", "foot rot", "footrot"]),
        (Term::Withdrawal, ["withdrawal", "withdrawal", "withdrawal", "withholding"]),
    ];
    let regions = [Region::Plain, Region::Uk, Region::NorthAmerica, Region::NzAustralia];
    for (term, words) in table {
        assert_eq!(regions.map(|region| Words(region).term(term)), words, "{term:?}");
    }
    let feet: Vec<&str> = Foot::ALL.iter().map(|foot| words::foot_in_full(*foot)).collect();
    assert_eq!(feet, ["FRONT LEFT", "FRONT RIGHT", "BACK LEFT", "BACK RIGHT"]);
    // Mobility 0-3 (UK), locomotion 1-5 (Sprecher et al. 1997), lameness 0-3 (DairyNZ).
    assert_eq!(Region::NorthAmerica.gait_scale(), GaitScale::OneToFive);
    assert_eq!(Region::Uk.gait_scale(), GaitScale::ZeroToThree);
    assert_eq!(Region::NzAustralia.gait_scale(), GaitScale::ZeroToThree);
}

/// Solano et al. 2016, J Dairy Sci 99:6828, took visits for those of a whole herd where 80 % or more of its lactating cows were
/// trimmed.
#[test]
fn a_visit_is_of_the_whole_herd_from_80_in_100_of_those_in_milk() {
    let id = |seq| AnimalId(RecordId { series: 1, seq });
    let share = |came: u64, in_milk: u64| {
        // Dry ones and heifers are not asked for, whoever of them came.
        let rest = [(id(900), Some(Status::Dry)), (id(901), Some(Status::Heifer)), (id(902), None)];
        let herd = (1..=in_milk).map(|seq| (id(seq), Some(Status::InMilk))).chain(rest);
        InMilk::of(herd, &(1..=came).chain(900..=902).map(id).collect())
    };
    for (came, of, percent, whole) in
        [(80, 100, 80, true), (79, 100, 79, false), (4, 5, 80, true), (399, 500, 79, false), (0, 7, 0, false)]
    {
        let share = share(came, of);
        assert_eq!(
            [share.came, share.of, share.untold],
            [came, of, 1].map(|count| usize::try_from(count).expect("few"))
        );
        assert_eq!((share.percent(), share.is_whole()), (Some(percent), whole), "{came} of {of}");
    }
    assert_eq!((share(0, 0).percent(), share(0, 0).is_whole()), (None, false), "with nobody in milk nothing is said");
}
