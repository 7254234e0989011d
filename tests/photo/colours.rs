//! Colours of sections under uneven light.

use crate::drawn::scene::SceneOptions;
use crate::shirt::{MEASURED, PLAN, SHIRTS, TAKEN, Taken, held};
use kurbo::Point;
use pleatwright::photo::{PhotoError, Plan, RegistrationOptions};
use pleatwright::reveal::colour::{Lab, LinearRgb, ciede2000};

/// The mean colour of a shirt's section, on cloth at least 4 mm from a bind, by every pixel of its picture.
fn section_colour(shirt: &Plan, section: usize) -> Option<Lab> {
    let along: Vec<f64> = shirt.layout().binds().binds.iter().map(|bind| bind.radius_mm).collect();
    let frame = shirt.frame();
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    for row in 0..frame.height {
        for column in 0..frame.width {
            let at = frame.middle(column, row);
            let r = shirt.along_mm(at);
            let is_clear = along.iter().all(|bind| (bind - r).abs() > 4.0);
            let inside = [(9.0, 0.0), (-9.0, 0.0), (0.0, 9.0), (0.0, -9.0)];
            let is_inside = inside.iter().all(|(x, y)| shirt.at(Point::new(at.x + x, at.y + y)).1 > 0.99);
            if is_clear && is_inside && along.partition_point(|bind| *bind <= r) + 1 == section {
                let (light, _) = shirt.at(at);
                sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += f64::from(channel));
                count += 1.0;
            }
        }
    }
    (count > 0.0).then(|| LinearRgb(sum.map(|sum| sum / count)).to_xyz().to_lab())
}

/// Light that differs by a third over the table, another white balance, a tint: 1.2 on average.
#[test]
fn section_colours_are_those_of_the_shirt() {
    let mut off = Vec::new();
    for (taken, measured) in TAKEN.iter().zip(MEASURED.iter()) {
        let colours = measured.tie().colours.as_ref().unwrap();
        assert!(colours.sections.len() > 12, "{}", colours.sections.len());
        for section in &colours.sections {
            let truth = section_colour(&SHIRTS[taken.shirt].flat, section.section).unwrap();
            off.push(ciede2000(section.lab, truth));
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "some sections")]
    let mean = off.iter().sum::<f64>() / off.len() as f64;
    off.sort_by(f64::total_cmp);
    assert!(mean <= 1.2, "{off:.1?}");
}

/// The sheet's size beside the plan, which is known to 1.6 %.
#[test]
fn the_sheet_gives_the_scale_within_its_error() {
    for measured in MEASURED.iter() {
        let scale = measured.scale.unwrap();
        assert!((scale.share - 1.0).abs() < 3.0 * scale.sd, "{scale:?}");
    }
}

#[test]
fn a_burnt_out_sheet_is_refused() {
    let taken = Taken::new(31, 0, 4, SceneOptions { exposure: 1.5, ..SceneOptions::default() });
    let refused = held(&taken.photograph(), &PLAN, &taken.marks, &RegistrationOptions::default());
    let Err(error @ PhotoError::BurntOut { percent, .. }) = refused else { panic!("{refused:?}") };
    assert!(percent > 2.0 && error.to_string().ends_with("photograph it again, exposed less"), "{error}");
}
