//! What a maker's pieces taught, in a file.

use crate::form::{FileForm, FileFormat, FormatNumber};
use crate::layout::ComponentReach;
use crate::learn::{ComponentPart, DyeStrength, Learned, LearnedError, LearnedProblem, LearnedValue, TaughtBy};
use crate::telling::Field;
use serde::{Deserialize, Serialize};

/// A file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// What is believed of each value; of one that is not here, what is believed before any piece.
    pub learned: Vec<ValueV1>,
    /// The pieces that taught.
    #[serde(default)]
    pub pieces: Vec<TaughtByV1>,
    /// How strong dyes come out.
    #[serde(default)]
    pub dyes: Vec<DyeStrengthV1>,
    /// How far the components of mixtures reach.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<ComponentV1>,
}

/// A value in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValueV1 {
    /// Its path among a layout's calibration values.
    pub value: String,
    /// What it is.
    pub is: f64,
    /// Its covariances with the values before it, then its own variance, on logarithmic scales: of a share, that of its odds.
    pub covariance: Vec<f64>,
}

/// A piece in format 1.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaughtByV1 {
    /// Its name.
    pub name: String,
    /// Marks of its photographs' bytes: the first 16 digits of their SHA-256.
    pub photographs: Vec<String>,
    /// The values that it shows.
    pub values: Vec<String>,
}

/// A dye in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeStrengthV1 {
    /// Its name.
    pub name: String,
    /// Its strength beside its swatch.
    pub strength: f64,
    /// How far off that may be, as a share.
    pub sd: f64,
    /// How many pieces showed it.
    pub pieces: usize,
}

/// A component of a mixture in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ComponentV1 {
    /// The mixture's name.
    pub mixture: String,
    /// The component's name in it.
    pub component: String,
    /// How far its maker guessed that it reaches, as a factor on how far dyes do.
    pub guess: f64,
    /// How far it does.
    pub reach_factor: f64,
    /// Its covariances with the values above and the components before it, then its own variance, on logarithmic scales.
    pub covariance: Vec<f64>,
    /// How many pieces showed it.
    pub pieces: usize,
}

impl FileFormat for LearnedV1 {
    const NUMBER: u32 = 1;
}

impl FileForm for LearnedV1 {
    type Live = Result<Learned, LearnedError>;

    fn live(self) -> Self::Live {
        let Self { format: FormatNumber, learned, pieces, dyes, components } = self;
        let mut values = Vec::with_capacity(learned.len());
        for (number, ValueV1 { value, is, covariance }) in (1..).zip(learned) {
            values.push((named(value, &Field::from("learned").item(number).then("value"))?, is, covariance));
        }
        let mut taught = Vec::with_capacity(pieces.len());
        for (number, TaughtByV1 { name, photographs, values }) in (1..).zip(pieces) {
            let of = |(at, name)| named(name, &Field::from("pieces").item(number).then("values").item(at));
            let values = (1..).zip(values).map(of).collect::<Result<_, _>>()?;
            taught.push(TaughtBy { name, photographs, values });
        }
        let dyes = dyes.into_iter();
        let dyes = dyes.map(|DyeStrengthV1 { name, strength, sd, pieces }| DyeStrength { name, strength, sd, pieces });
        let component = |ComponentV1 { mixture, component, guess, reach_factor, covariance, pieces }| {
            let reach = ComponentReach { mixture, component, reach_factor };
            ComponentPart { reach, guess, covariance, pieces }
        };
        let components: Vec<ComponentPart> = components.into_iter().map(component).collect();
        Learned::from_parts(&values, &components, taught, dyes.collect())
    }
}

fn named(name: String, field: &Field) -> Result<LearnedValue, LearnedError> {
    LearnedValue::named(&name).ok_or_else(|| {
        let known = LearnedValue::ALL.map(|value| value.facts().key).to_vec();
        LearnedError { field: field.clone(), problem: LearnedProblem::Name { name, known } }
    })
}

impl LearnedV1 {
    /// What was learned, in this format.
    #[must_use]
    pub fn of(learned: &Learned) -> Self {
        let key = |value: LearnedValue| value.facts().key.to_owned();
        let values = learned.parts().into_iter();
        let values = values.map(|(value, is, covariance)| ValueV1 { value: key(value), is, covariance });
        let piece = |TaughtBy { name, photographs, values }: &TaughtBy| TaughtByV1 {
            name: name.clone(),
            photographs: photographs.clone(),
            values: values.iter().map(|value| key(*value)).collect(),
        };
        let dye = |DyeStrength { name, strength, sd, pieces }: &DyeStrength| DyeStrengthV1 {
            name: name.clone(),
            strength: *strength,
            sd: *sd,
            pieces: *pieces,
        };
        let component = |ComponentPart { reach, guess, covariance, pieces }| {
            let ComponentReach { mixture, component, reach_factor } = reach;
            ComponentV1 { mixture, component, guess, reach_factor, covariance, pieces }
        };
        Self {
            components: learned.component_parts().into_iter().map(component).collect(),
            format: FormatNumber,
            learned: values.collect(),
            pieces: learned.pieces().iter().map(piece).collect(),
            dyes: learned.dyes().iter().map(dye).collect(),
        }
    }
}
