//! How well colours can be told apart, by published formulas: contrast (WCAG 2), colour blindness (Machado and others 2009),
//! and distance in CIE Lab.
//!
//! The three hues are those of Okabe and Ito, Color Universal Design (2002, 2008), as the nearest of the 256 that reach 7:1
//! under black text.

use super::theme::{TONES, rgb};
use crushbook::screen::theme::{Colour, Role, Theme};
use crushbook::session::Light;

/// Red, green and blue as a screen is given them.
pub type Rgb = [u8; 3];
type Linear = [f64; 3];

/// WCAG 2: sRGB made linear.
fn linear(colour: Rgb) -> Linear {
    colour.map(|value| {
        let c = f64::from(value) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    })
}

fn luminance(colour: Rgb) -> f64 {
    let [r, g, b] = linear(colour);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// WCAG 2 contrast of two colours.
pub fn ratio(one: Rgb, other: Rgb) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

type Matrix = [Linear; 3];

const SEEN_WHOLE: Matrix = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

/// Machado, Oliveira and Fernandes 2009, IEEE Transactions on Visualization and Computer Graphics 15(6):1291, severity 1.0, on
/// linear values.
const BLIND: [(&str, Matrix); 3] = [
    ("protan", [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]),
    ("deutan", [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]),
    ("tritan", [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]),
];

fn times(matrix: Matrix, colour: Linear) -> Linear {
    let row = |row: Linear| row.iter().zip(colour).map(|(factor, value)| factor * value).sum::<f64>().clamp(0.0, 1.0);
    matrix.map(row)
}

/// CIE 1976 L*a*b* under D65, from linear sRGB.
fn lab(colour: Linear) -> Linear {
    const XYZ: Matrix =
        [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]];
    const WHITE: Linear = [0.95047, 1.0, 1.08883];
    let edge = 6.0_f64 / 29.0;
    let f = |t: f64| if t > edge.powi(3) { t.cbrt() } else { t / (3.0 * edge * edge) + 4.0 / 29.0 };
    let [x, y, z] = [0, 1, 2].map(|at| f(XYZ[at].iter().zip(colour).map(|(k, v)| k * v).sum::<f64>() / WHITE[at]));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// How far apart two colours look: the plain distance in Lab.
fn apart(one: Linear, other: Linear) -> f64 {
    lab(one).iter().zip(lab(other)).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
}

fn hue(colour: Rgb) -> f64 {
    let [_, a, b] = lab(linear(colour));
    b.atan2(a).to_degrees().rem_euclid(360.0)
}

/// Okabe and Ito's sky blue, yellow and vermillion.
const OKABE_ITO: [(&str, Rgb); 3] =
    [("sky blue", [86, 180, 233]), ("yellow", [240, 228, 66]), ("vermillion", [213, 94, 0])];
/// Their orange, which none of the three may become.
const ORANGE: Rgb = [230, 159, 0];

/// The grounds of the three tones, in a light that has them.
fn grounds(light: Light) -> [Rgb; 3] {
    let theme = Theme { light, colour: Colour::Full };
    TONES.map(|tone| rgb(theme.role(Role::Label(tone)).bg.expect("a label has a ground")))
}

#[test]
fn the_formulas_give_published_values() {
    // WCAG 2: black on white is 21:1. Lab of sRGB red under D65: 53.2, 80.1, 67.2 (any table of colour spaces, from memory).
    assert!((ratio([0; 3], [255; 3]) - 21.0).abs() < 1e-9);
    for (found, known) in lab(linear([255, 0, 0])).iter().zip([53.2, 80.1, 67.2]) {
        assert!((found - known).abs() < 0.1, "{found} {known}");
    }
    // Machado and others: white stays white, so that each row adds up to one.
    for (name, matrix) in BLIND {
        assert!(matrix.iter().all(|row| (row.iter().sum::<f64>() - 1.0).abs() < 1e-3), "{name}");
    }
}

#[test]
fn the_three_tones_are_near_their_hues() {
    for light in [Light::Normal, Light::Shed] {
        for (ground, (name, wanted)) in grounds(light).into_iter().zip(OKABE_ITO) {
            let off = |other: Rgb| {
                let turn = (hue(ground) - hue(other)).abs();
                turn.min(360.0 - turn)
            };
            assert!(off(wanted) < 30.0, "{name}: {:.0} degrees off", off(wanted));
            assert!(off(wanted) < off(ORANGE), "{name} is nearer to its own hue than to orange");
        }
    }
}

#[test]
fn no_two_tones_look_alike_to_anybody() {
    for light in [Light::Normal, Light::Shed] {
        let [note, warn, alarm] = grounds(light).map(linear);
        for (name, matrix) in BLIND.into_iter().chain([("whole", SEEN_WHOLE)]) {
            for (one, other) in [(note, warn), (note, alarm), (warn, alarm)] {
                // 30: the three pure hues of Okabe and Ito come to 33.6 at least, by the same formula.
                let apart = apart(times(matrix, one), times(matrix, other));
                assert!(apart >= 30.0, "{light:?} {name}: {apart:.0}");
            }
        }
    }
}
