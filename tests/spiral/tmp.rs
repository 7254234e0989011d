use crate::bodies::{fold, spec, tee};
use pleatwright::geometry::*;
use pleatwright::layout::*;
use pleatwright::reveal::solver::*;
use pleatwright::reveal::*;
#[test]
fn steps() {
    let fold = fold(&spec(), tee());
    for (across, process) in [
        (8, Process { hand: Hand::EXACT, ..Process::default() }),
        (8, Process { dye: DyeBy::ByHand, ..Process::default() }),
        (16, Process::default()),
    ] {
        for which in ["ring", "cut", "dirichlet", "nodrift"] {
            let grid = RodGrid::new(&fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 3.0, across }).unwrap();
            let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
            let (mut op, shape) = (system.operator, grid.shape());
            let (plane, cells) = (shape.plane(), shape.cells());
            match which {
                "cut" => {
                    op.along[..plane].fill(0.0);
                    op.along[cells..].fill(0.0);
                }
                "dirichlet" => {
                    for i in 0..plane {
                        op.loss[i] += op.along[i];
                        op.loss[cells - plane + i] += op.along[i];
                    }
                    op.along[..plane].fill(0.0);
                    op.along[cells..].fill(0.0);
                }
                _ => {}
            }
            let mut x = system.source.zero_on(shape);
            let t = std::time::Instant::now();
            let r = ConjugateGradients::new(op, 1).unwrap().solve(
                &system.source,
                &mut x,
                &SolveOptions { residual: 1e-4, most_steps: 100 },
                &|| false,
            );
            eprintln!("{across} {which} {:?} {:?} shape {:?}", r.map_err(|e| e.to_string()), t.elapsed(), shape);
            if which == "dirichlet" {
                break;
            }
        }
    }
}
