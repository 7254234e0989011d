//! Which doses a rotation's dyes are kept as: one field for each dye, and for a mixture one for each reach of its components.

use super::mixture::shares;
use super::{Component, Swatch};

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
        Self::parted(rotation, of_dye)
    }

    /// The fields of a rotation's dyes, of a mixture one for each component, even of those that go equally far: which there are does not depend on
    /// how far that is.
    #[must_use]
    pub fn of_components(rotation: &[Swatch]) -> Self {
        Self::parted(rotation, of_each_component)
    }

    fn parted(rotation: &[Swatch], of_dye: fn(usize, &Swatch) -> Vec<DyeField>) -> Self {
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
    /// there are any or not; each of the others is solved with equations of its own. No two of one group are of the same dye.
    #[must_use]
    pub fn by_reach(&self) -> Vec<(f64, Vec<usize>)> {
        let mut groups: Vec<(f64, Vec<usize>)> = vec![(1.0, Vec::new())];
        for (number, field) in self.fields.iter().enumerate() {
            let is_free = |numbers: &[usize]| numbers.iter().all(|other| self.fields[*other].dye != field.dye);
            let fits =
                |(factor, numbers): &&mut (f64, Vec<usize>)| factor.total_cmp(&field.reach_factor).is_eq() && is_free(numbers);
            match groups.iter_mut().find(fits) {
                Some((_, numbers)) => numbers.push(number),
                None => groups.push((field.reach_factor, vec![number])),
            }
        }
        groups
    }

    /// Whether there is one field for each dye, and all go as far as dyes do.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.len() == self.dyes && self.fields.iter().all(|field| field.reach_factor.total_cmp(&1.0).is_eq())
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

/// The fields of one dye: of a mixture one for each component.
fn of_each_component(dye: usize, swatch: &Swatch) -> Vec<DyeField> {
    if swatch.components.is_empty() {
        return vec![unmixed(dye)];
    }
    let of = |(index, (one, share)): (usize, (&Component, f64))| DyeField {
        dye,
        reach_factor: one.reach_factor,
        share,
        components: vec![index],
    };
    swatch.components.iter().zip(shares(&swatch.components)).enumerate().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Srgb;

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

    /// Which fields there are does not depend on how far components go, and no two that equations of one group feed are of one dye.
    #[test]
    fn every_component_has_a_field_of_its_own_where_that_is_asked_for() {
        let with = |factors: [f64; 3]| {
            let [a, b, c] = factors;
            DyeFields::of_components(&[
                mixed("teal", &[]),
                mixed("grey", &[(50.0, a), (30.0, b), (20.0, c)]),
                mixed("amber", &[]),
            ])
        };
        let (alike, apart) = (with([1.0; 3]), with([1.25, 1.0, 0.8]));
        let of = |fields: &DyeFields| fields.all().iter().map(|field| (field.dye, field.components.clone())).collect::<Vec<_>>();
        assert_eq!(of(&alike), of(&apart));
        assert_eq!(of(&alike), [(0, vec![]), (1, vec![0]), (2, vec![]), (1, vec![1]), (1, vec![2])]);
        assert!(!alike.is_plain());
        assert_eq!(alike.by_reach(), [(1.0, vec![0, 1, 2]), (1.0, vec![3]), (1.0, vec![4])]);
        assert_eq!(apart.by_reach(), [(1.0, vec![0, 2, 3]), (1.25, vec![1]), (0.8, vec![4])]);
        assert!(DyeFields::of_components(&[mixed("teal", &[])]).is_plain());
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
