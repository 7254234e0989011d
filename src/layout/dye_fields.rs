//! Which doses a rotation's dyes are kept as: one field for each dye, and for a mixture one for each reach of its components.

use super::Swatch;
use super::mixture::shares;

/// A dose that is solved and kept by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct DyeField {
    /// The dye that it is of, as an index into the rotation.
    pub dye: usize,
    /// How far it reaches, as a factor on how far dyes do.
    pub reach_factor: f64,
    /// Its share of the dye's powder by weight, 0 to 1.
    pub share: f64,
    /// The components of the dye that go so far, as indices; none of an unmixed dye.
    pub components: Vec<usize>,
}

/// The fields of a rotation. The first are one for each dye, in its order; what mixtures have besides follows.
///
/// An unmixed dye has one field. So has a mixture whose components all go equally far: in proportion, they stay one.
///
/// ```
/// use pleatwright::layout::DyeFields;
/// let unmixed = DyeFields::plain(3);
/// assert_eq!((unmixed.len(), unmixed.by_reach().len()), (3, 1));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct DyeFields {
    dyes: usize,
    fields: Vec<DyeField>,
}

impl DyeFields {
    /// The fields of a rotation's dyes.
    #[must_use]
    pub fn of(rotation: &[Swatch]) -> Self {
        let mut fields = Vec::with_capacity(rotation.len());
        let mut further = Vec::new();
        for (dye, swatch) in rotation.iter().enumerate() {
            let mut own = of_dye(dye, swatch).into_iter();
            fields.extend(own.next());
            further.extend(own);
        }
        fields.append(&mut further);
        Self { dyes: rotation.len(), fields }
    }

    /// So many unmixed dyes.
    #[must_use]
    pub fn plain(dyes: usize) -> Self {
        Self { dyes, fields: (0..dyes).map(unmixed).collect() }
    }

    /// How many fields there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.fields.len()
    }

    /// Whether there are no dyes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.fields.is_empty()
    }

    /// How many dyes there are.
    #[must_use]
    pub fn dyes(&self) -> usize {
        self.dyes
    }

    /// Every field, in order.
    #[must_use]
    pub fn all(&self) -> &[DyeField] {
        &self.fields
    }

    /// The fields of a dye, with their numbers.
    pub fn of_dye(&self, dye: usize) -> impl Iterator<Item = (usize, &DyeField)> {
        self.fields.iter().enumerate().filter(move |(_, field)| field.dye == dye)
    }

    /// The dose of a dye as a whole, from the doses of its fields: each counts by its share of the powder.
    pub fn dose(&self, dye: usize, of_field: impl Fn(usize) -> f64) -> f64 {
        self.of_dye(dye).map(|(number, field)| field.share * of_field(number)).sum()
    }

    /// Numbers of the fields that reach equally far, by the factor on how far dyes do. Those that go as far as dyes do come first, whether
    /// there are any or not; each of the others is solved with equations of its own.
    #[must_use]
    pub fn by_reach(&self) -> Vec<(f64, Vec<usize>)> {
        let mut groups: Vec<(f64, Vec<usize>)> = vec![(1.0, Vec::new())];
        for (number, field) in self.fields.iter().enumerate() {
            match groups.iter_mut().find(|(factor, _)| factor.total_cmp(&field.reach_factor).is_eq()) {
                Some((_, numbers)) => numbers.push(number),
                None => groups.push((field.reach_factor, vec![number])),
            }
        }
        groups
    }

    /// Whether all fields go as far as dyes do: then there is one for each dye.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.fields.iter().all(|field| field.reach_factor.total_cmp(&1.0).is_eq())
    }

    /// The least factor on how far dyes reach; 1 without dyes.
    #[must_use]
    pub fn least_reach_factor(&self) -> f64 {
        self.fields.iter().map(|field| field.reach_factor).reduce(f64::min).unwrap_or(1.0)
    }
}

fn unmixed(dye: usize) -> DyeField {
    DyeField { dye, reach_factor: 1.0, share: 1.0, components: Vec::new() }
}

/// The fields of one dye: of a mixture one for each reach, that of its first component first.
fn of_dye(dye: usize, swatch: &Swatch) -> Vec<DyeField> {
    if swatch.components.is_empty() {
        return vec![unmixed(dye)];
    }
    let mut fields: Vec<DyeField> = Vec::new();
    for (index, (one, share)) in swatch.components.iter().zip(shares(&swatch.components)).enumerate() {
        let factor = one.reach_factor;
        match fields.iter_mut().find(|field| field.reach_factor.total_cmp(&factor).is_eq()) {
            Some(field) => {
                field.share += share;
                field.components.push(index);
            }
            None => fields.push(DyeField { dye, reach_factor: factor, share, components: vec![index] }),
        }
    }
    fields
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{Component, Srgb};

    fn mixed(name: &str, of: &[(f64, f64)]) -> Swatch {
        let srgb = Srgb { red: 90, green: 90, blue: 100 };
        let component = |(number, &(percent, reach_factor)): (usize, &(f64, f64))| Component {
            name: format!("{name} {number}"),
            srgb,
            percent,
            reach_factor,
        };
        Swatch { components: of.iter().enumerate().map(component).collect(), ..Swatch::plain(name, srgb) }
    }

    #[test]
    fn a_mixture_has_a_field_for_each_reach_and_others_have_one() {
        let rotation = [
            mixed("teal", &[]),
            mixed("grey", &[(50.0, 1.25), (30.0, 1.0), (20.0, 1.25)]),
            mixed("amber", &[]),
            mixed("moss", &[(40.0, 1.25), (60.0, 1.25)]),
            mixed("dusk", &[(40.0, 1.0), (60.0, 1.0)]),
        ];
        let fields = DyeFields::of(&rotation);
        assert_eq!((fields.len(), fields.dyes(), fields.is_plain()), (6, 5, false));
        let dyes: Vec<usize> = fields.all().iter().map(|field| field.dye).collect();
        assert_eq!(dyes, [0, 1, 2, 3, 4, 1]);
        assert_eq!(fields.by_reach(), [(1.0, vec![0, 2, 4, 5]), (1.25, vec![1, 3])]);
        assert_eq!(fields.all()[1].components, [0, 2]);
        let dose = fields.dose(1, |field| if field == 5 { 0.1 } else { 0.5 });
        assert!((dose - (0.7 * 0.5 + 0.3 * 0.1)).abs() < 1e-12, "{dose}");
        assert!((fields.least_reach_factor() - 1.0).abs() < 1e-12);
    }

    /// Nothing more is solved for unmixed dyes, nor for a mixture that does not part.
    #[test]
    fn unmixed_dyes_have_one_field_each_and_one_operator() {
        let rotation = [mixed("teal", &[]), mixed("dusk", &[(40.0, 1.0), (60.0, 1.0)])];
        let fields = DyeFields::of(&rotation);
        assert_eq!(fields.by_reach(), DyeFields::plain(2).by_reach());
        assert!(fields.is_plain() && DyeFields::of(&[]).is_empty());
    }
}
