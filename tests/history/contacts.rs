//! A farm's people: the newest word on a name holds, and nothing that was said is lost.

use crate::support::tablet::{Tablet, day};
use crushbook::domain::contact::{Contact, DOES, Known, NAME, No, checked, here, known};
use crushbook::domain::event::Event;
use crushbook::domain::history::standing::Standing;
use crushbook::domain::ids::FarmId;

fn told(farm: FarmId, name: &str, does: &str, phone: &str) -> Event {
    Event::ContactTold { farm, name: name.into(), does: does.into(), phone: phone.into(), gone: false }
}

fn gone(farm: FarmId, name: &str) -> Event {
    Event::ContactTold { farm, name: name.into(), does: String::new(), phone: String::new(), gone: true }
}

fn contact(name: &str, does: &str, phone: &str) -> Contact {
    Contact { name: name.into(), does: does.into(), phone: phone.into() }
}

fn of(tablet: &Tablet, farm: FarmId) -> Vec<Contact> {
    here(&Standing::of(tablet.seen.iter().rev().cloned().collect()), farm)
}

fn all(tablet: &Tablet, farm: FarmId) -> Vec<Known> {
    known(&Standing::of(tablet.seen.clone()), farm)
}

#[test]
fn the_newest_word_on_a_name_holds_however_it_is_written() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    tablet.write(day(2), farm.0, told(farm, "Tom", "takes wraps off", "01632 960123"));
    tablet.write(day(3), farm.0, told(farm, "Ada", "", ""));
    tablet.write(day(4), farm.0, told(farm, " TOM", "milks", ""));
    // A sheet typed late says what was so before.
    tablet.write(day(1), farm.0, told(farm, "tom", "helps", "01632 960999"));
    assert_eq!(of(&tablet, farm), [contact(" TOM", "milks", ""), contact("Ada", "", "")]);
    let tom = all(&tablet, farm).remove(0);
    let before: Vec<_> = tom.before.iter().map(|word| (word.on, word.contact.does.as_str())).collect();
    assert_eq!((tom.now.on, before), (day(4), vec![(day(2), "takes wraps off"), (day(1), "helps")]));
}

#[test]
fn whoever_is_gone_is_last_and_may_come_back_and_every_word_is_kept() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    tablet.write(day(2), farm.0, told(farm, "Tom", "takes wraps off", "01632 960123"));
    tablet.write(day(2), farm.0, told(farm, "Ada", "", ""));
    let left = tablet.write(day(3), farm.0, gone(farm, "tom"));
    assert_eq!(of(&tablet, farm), [contact("Ada", "", "")]);
    let last = all(&tablet, farm).pop().expect("told of");
    assert_eq!((last.now.gone, last.before[0].contact.phone.as_str()), (true, "01632 960123"));
    let mut other = tablet.clone();
    other.write(day(5), farm.0, told(farm, "Tom", "milks", ""));
    assert_eq!(of(&other, farm), [contact("Tom", "milks", ""), contact("Ada", "", "")]);
    // Taken back, all is as it was.
    tablet.write(day(3), farm.0, Event::Undone { press: left });
    assert_eq!(of(&tablet, farm)[0], contact("Tom", "takes wraps off", "01632 960123"));
}

#[test]
fn a_correction_says_it_as_it_should_have_been_said() {
    let mut tablet = Tablet::new(1);
    let farm = tablet.farm(day(1));
    let id = tablet.write(day(2), farm.0, told(farm, "Tom", "milks", "01632 960123"));
    let to = Box::new(told(farm, "Tom", "milks", "01632 960124"));
    tablet.write(day(3), farm.0, Event::Corrected { of: id, to, why: "a digit".into() });
    assert_eq!(of(&tablet, farm), [contact("Tom", "milks", "01632 960124")]);
}

#[test]
fn joined_farms_take_each_others_people_and_parted_have_each_their_own() {
    let mut tablet = Tablet::new(1);
    let (one, other) = (tablet.farm(day(1)), tablet.farm(day(1)));
    tablet.write(day(2), one.0, told(one, "Tom", "milks", ""));
    tablet.write(day(2), other.0, told(other, "Ada", "fetches dry cows", ""));
    tablet.write(day(3), other.0, told(other, "Tom", "takes wraps off", ""));
    let joined = tablet.write(day(4), one.0, Event::Joined { one: one.0, other: other.0 });
    let both = [contact("Tom", "takes wraps off", ""), contact("Ada", "fetches dry cows", "")];
    assert_eq!((of(&tablet, one).as_slice(), of(&tablet, other).as_slice()), (&both[..], &both[..]));
    tablet.write(day(5), one.0, Event::Parted { joined });
    assert_eq!(of(&tablet, one), [contact("Tom", "milks", "")]);
    assert_eq!(of(&tablet, other), [both[1].clone(), both[0].clone()]);
}

#[test]
fn two_tablets_that_tell_of_one_name_agree_whoever_is_asked() {
    let mut first = Tablet::new(1);
    let farm = first.farm(day(1));
    let mut second = Tablet::new(2);
    second.meet(&first);
    first.write(day(3), farm.0, told(farm, "Tom", "milks", "01632 960123"));
    second.write(day(4), farm.0, told(farm, "tom", "takes wraps off", ""));
    let (mut here, mut there) = (first.clone(), second.clone());
    here.meet(&second);
    there.meet(&first);
    assert_eq!(of(&here, farm), of(&there, farm));
    assert_eq!(of(&here, farm), [contact("tom", "takes wraps off", "")]);
}

/// ITU-T E.123: national `(01632) 960123`, international `+44 1632 960123`, blanks, hyphens and points between groups, a stroke
/// before another number; ITU-T E.164: at most 15 digits. Three digits inside a house: common practice.
#[test]
fn a_number_is_what_can_be_dialled() {
    for phone in [
        "",
        "01632 960123",
        "(01632) 960123",
        "+44 1632 960123",
        "01632-960-123",
        "01632.960.123",
        "01632 960123/4",
        "112",
    ] {
        assert_eq!(checked("Tom", "", phone).map(|one| one.phone), Ok(phone.to_owned()), "{phone}");
    }
    let long = "1".repeat(41);
    for phone in [
        "ask Hester",
        "01632 96O123",
        "01632 960123 ext 4",
        "12",
        "+",
        "---",
        "\u{0661}\u{0662}\u{0663}",
        long.as_str(),
    ] {
        assert_eq!(checked("Tom", "", phone), Err(No::NoPhone), "{phone}");
    }
}

#[test]
fn a_contact_has_a_name_that_is_seen_and_no_text_without_end() {
    for name in ["", "  ", "\u{200b}\u{202e}", "\n"] {
        assert_eq!(checked(name, "", ""), Err(No::NoName), "{name:?}");
    }
    assert_eq!(checked(" T\u{202e}om\u{7} ", " milks ", " 01632 960123 "), Ok(contact("Tom", "milks", "01632 960123")));
    let letters = |count: usize| "\u{e9}".repeat(count);
    assert!(checked(&letters(NAME), &letters(DOES), "").is_ok());
    assert_eq!(checked(&letters(NAME + 1), "", ""), Err(No::LongName(NAME)));
    assert_eq!(checked("Tom", &letters(DOES + 1), ""), Err(No::LongDoes(DOES)));
}
