//! A part that takes more or less than its law says.

use hydraulics::element::Element;

/// Multiplies what a part takes. A filter's media take `loading` times what clean ones do, and its passages `factor` times what
/// their law says; any other part takes `factor` times its own. `None` where that is no part.
pub(super) fn scaled(element: &Element, factor: f64, loading: f64) -> Option<Element> {
    Some(match element {
        Element::Pipe(run) => {
            let mut run = *run;
            run.length_m *= factor;
            run.minor_loss_k *= factor;
            Element::Pipe(run)
        }
        Element::MinorLoss { k, bore_m } => Element::MinorLoss {
            k: k * factor,
            bore_m: *bore_m,
        },
        Element::Filter { law, .. } => {
            let mut law = *law;
            law.passages_pa_s2_m6 *= factor;
            Element::Filter { law, loading }
        }
        Element::Rated(drops) => Element::Rated(drops.times(factor)?),
        Element::CheckValve(valve) => {
            let mut valve = *valve;
            valve.cracking_pa *= factor;
            // The drop goes with the inverse square of the flow coefficient.
            valve.kv_m3h /= factor.sqrt();
            Element::CheckValve(valve)
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use hydraulics::element::element_head_m;
    use hydraulics::equipment::{CheckValve, RatedDrops, filter_law};
    use hydraulics::loss::PipeRun;
    use hydraulics::water::Water;

    #[test]
    fn a_scaled_part_takes_that_many_times_as_much() {
        let water = Water::fresh(293.15).unwrap();
        let run = PipeRun {
            bore_m: 0.05,
            roughness_m: 1e-6,
            length_m: 10.0,
            minor_loss_k: 0.5,
        };
        let law = filter_law(4e-3, 2e4, 0.3, &water).unwrap();
        let parts = [
            Element::Pipe(run),
            Element::MinorLoss {
                k: 2.0,
                bore_m: 0.04,
            },
            Element::Filter { law, loading: 1.0 },
            Element::Rated(RatedDrops::new(&[(2e-3, 4e3), (4e-3, 2e4)]).unwrap()),
            Element::CheckValve(CheckValve {
                cracking_pa: 3e3,
                kv_m3h: 20.0,
            }),
        ];
        for part in parts {
            for flow in [1e-4, 3e-3] {
                let once = element_head_m(&part, flow, &water).unwrap().value;
                let scaled = scaled(&part, 1.7, 1.7).unwrap();
                let more = element_head_m(&scaled, flow, &water).unwrap().value;
                // A few roundings.
                assert!((more / once - 1.7).abs() < 1e-13, "{part:?}");
            }
        }
    }
}
