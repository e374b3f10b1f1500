//! Several masts: combined area and centre of effort, and the order in which they are reefed.

/// What one sail brings to the rig in one of its states.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Standing {
    /// Area standing [m²].
    pub area: f64,
    /// Its centre of effort aft of the forward end of the waterline [m].
    pub x: f64,
    /// Its centre of effort above the waterline [m].
    pub z: f64,
}

impl Standing {
    /// All sails together: areas add, centres are weighed by area. `None` when nothing stands.
    pub fn together(sails: impl IntoIterator<Item = Self>) -> Option<Self> {
        let mut sum = Self::default();
        for sail in sails {
            sum.area += sail.area;
            sum.x += sail.area * sail.x;
            sum.z += sail.area * sail.z;
        }
        let all = Self {
            area: sum.area,
            x: sum.x / sum.area,
            z: sum.z / sum.area,
        };
        (all.area > 0.0 && all.x.is_finite() && all.z.is_finite()).then_some(all)
    }
}

/// The order that keeps the lead nearest to that of full sail: at every step the mast is reefed
/// whose next reef moves the combined centre of effort least from its place at full sail.
///
/// `sails[m][k]` is mast m with k panels lowered. Returns tuples of panels lowered, from all
/// standing to all down, one panel a step.
pub fn least_change_of_lead(sails: &[Vec<Standing>]) -> Vec<Vec<usize>> {
    let mut at = vec![0; sails.len()];
    let combined = |at: &[usize]| {
        Standing::together(
            sails
                .iter()
                .zip(at)
                .filter_map(|(sail, k)| sail.get(*k).copied()),
        )
    };
    let full = combined(&at).map_or(0.0, |s| s.x);
    let steps: usize = sails.iter().map(|s| s.len().saturating_sub(1)).sum();
    let mut sequence = vec![at.clone()];
    for _ in 0..steps {
        let next = (0..sails.len())
            .filter(|m| at[*m] + 1 < sails[*m].len())
            .map(|m| {
                let mut tried = at.clone();
                tried[m] += 1;
                // Nothing left standing has no lead to change.
                let shift = combined(&tried).map_or(0.0, |s| (s.x - full).abs());
                (shift, tried)
            })
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, tried)) = next else { break };
        at = tried;
        sequence.push(at.clone());
    }
    sequence
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sail(x: f64, areas: &[f64]) -> Vec<Standing> {
        areas
            .iter()
            .map(|area| Standing {
                area: *area,
                x,
                z: 3.0,
            })
            .collect()
    }

    #[test]
    fn the_sequence_lowers_every_panel_once_and_keeps_the_lead_as_near_as_it_can() {
        let fore = sail(1.0, &[20.0, 16.0, 12.0, 8.0, 4.0, 0.0]);
        let main = sail(6.0, &[36.0, 30.0, 24.0, 18.0, 12.0, 6.0, 0.0]);
        let sails = [fore, main];
        let order = least_change_of_lead(&sails);
        assert_eq!(order.len(), 12);
        assert_eq!(order.last(), Some(&vec![5, 6]));
        let x = |at: &[usize]| {
            Standing::together(at.iter().zip(&sails).map(|(k, s)| s[*k])).map(|s| s.x)
        };
        let full = x(&order[0]).unwrap();
        // Until the last sails come down, alternating keeps the centre within half a metre; taking
        // one mast first would carry it more than two metres.
        for at in &order[..8] {
            assert!((x(at).unwrap() - full).abs() < 0.5, "{at:?}");
        }
        assert!((x(&[0, 6]).unwrap() - full).abs() > 2.0);
    }

    #[test]
    fn one_mast_is_reefed_in_its_own_order() {
        let order = least_change_of_lead(&[sail(2.0, &[9.0, 6.0, 3.0, 0.0])]);
        assert_eq!(order, vec![vec![0], vec![1], vec![2], vec![3]]);
    }
}
