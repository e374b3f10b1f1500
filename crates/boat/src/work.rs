//! The order of work.

use crate::inclining::height_by_rolling;
use crate::lateral::outline;
use crate::ratios::{displacement_to_length, sail_area_to_displacement, wetted_surface};
use crate::stability::{Basis, Change, displacement};
use crate::{
    Account, Advice, Banded, Fault, Governs, Heel, Inclining, Input, Limit, Outline, Ratios,
    RigNow, SailAccount, StepAccount, Swap,
};
use wind::{Course, beaufort, pressure, speed_of};

/// Works out everything about a boat. Pure and total: what cannot be is named among the faults, and
/// the rest is worked out without it.
pub fn account(input: &Input) -> Account {
    let hull = &input.hull;
    let mut faults = Vec::new();
    let real = hull.is_real();
    if !real {
        faults.push(Fault::Hull);
    }
    let numbers = numbers(input);
    if !numbers {
        faults.push(Fault::Number);
    }

    let test = Inclining::fit(&input.readings);
    let table = crate::table::nodes(&input.table);
    let basis = Basis {
        input,
        test: &test,
        table: &table,
    };
    basis.faults(&mut faults);
    let change = Change::of(input);
    let chosen = if input.loading < 3 { input.loading } else { 1 };
    let mut loadings = [None; 3];
    let mut curve = None;
    let mut swap = None;
    if real && numbers {
        for (which, loading) in loadings.iter_mut().enumerate() {
            if let Some((found, its)) = basis.loading(which, &change) {
                *loading = Some(found);
                if which == chosen {
                    curve = Some(its);
                    if found.stiffness.value < 0.0 {
                        faults.push(Fault::Lolls);
                    }
                }
            }
        }
        if !(input.off.is_empty() && input.on.is_empty()) {
            let before = basis.loading(chosen, &Change::default());
            let middle = 0.5 * hull.length;
            swap = Some(Swap {
                before: before.map(|(loading, _)| loading),
                mass: change.mass,
                sinkage: change.mass / (hull.water * hull.waterplane_area()),
                // GM_L taken as BM_L: m g BM_L = ρ g I_L.
                trim: hull.length * (change.along - change.mass * middle)
                    / (hull.water * hull.longitudinal_moment()),
            });
        }
    }
    if let Some(curve) = &mut curve {
        curve.find_crests();
    }

    let resistance = match input.lateral.resistance(hull) {
        _ if !real => None,
        Ok(found) => Some(found),
        Err(fault) => {
            faults.push(fault);
            None
        }
    };
    let mut account = Account {
        loadings,
        curve,
        test: test.ok(),
        rolled: input
            .roll
            .period
            .and_then(|period| height_by_rolling(input.roll.gyration, period)),
        swap,
        resistance,
        // The usual stand-in of the rules (heights above half draught, as MCA Passenger Yacht Code 14.6).
        pivot: resistance.map_or(-0.5 * hull.draught, |found| found.z),
        rig_now: None,
        steps: Vec::new(),
        ratios: Ratios::default(),
        conditions: input.conditions,
        faults,
    };
    account.rig_now(input);
    if real && numbers {
        account.steps(input);
    }
    account.ratios(input);
    account
}

/// Whether every loose number is one, and none so large that products of them are not.
fn numbers(input: &Input) -> bool {
    let c = &input.conditions;
    let mut fine = true;
    let mut each = |numbers: &[f64]| fine &= numbers.iter().all(|n| n.abs() < 1e9);
    each(&[c.course.boat_speed, c.course.wind_angle, c.comfort]);
    each(&[c.gradient.exponent, c.gradient.reference, c.exponent]);
    each(&[c.running_force, input.stores_height, input.roll.gyration]);
    each(&[input.bands.displacement, input.bands.height]);
    each(&[input.crew.to_weather, input.crew.mass, input.crew.arm]);
    each(&[input.greatest_factor]);
    for weight in input.off.iter().chain(&input.on) {
        each(&[weight.mass, weight.x, weight.z]);
    }
    for step in &input.steps {
        for sail in &step.sails {
            each(&[sail.area, sail.x, sail.z, sail.force, sail.efficiency]);
            each(&[sail.pressure_aft, sail.chord, sail.squared]);
        }
        for windage in &step.windage {
            each(&[windage.force, windage.area, windage.z]);
        }
    }
    fine
}

/// Areas and centres added up, each by a weight of its own.
#[derive(Clone, Copy, Default)]
struct Sum {
    weight: f64,
    x: f64,
    y: f64,
    z: f64,
}

impl Sum {
    fn add(&mut self, weight: f64, x: f64, y: f64, z: f64) {
        self.weight += weight;
        self.x += weight * x;
        self.y += weight * y;
        self.z += weight * z;
    }

    fn centre(&self, area: f64) -> Option<Outline> {
        (self.weight > 0.0).then(|| Outline {
            area,
            x: self.x / self.weight,
            z: self.z / self.weight,
        })
    }
}

impl Account {
    /// Lead of a centre of effort as a share of LWL.
    fn lead(&self, input: &Input, x: f64) -> Option<f64> {
        Some((self.resistance?.x - x) / input.hull.length)
    }

    fn rig_now(&mut self, input: &Input) {
        if input.sails_now.is_empty() {
            return;
        }
        let mut sails = Vec::new();
        let mut sum = Sum::default();
        for (i, points) in input.sails_now.iter().enumerate() {
            let found = outline(points, f64::INFINITY);
            match &found {
                Ok(sail) => sum.add(sail.area, sail.x, 0.0, sail.z),
                Err(true) => self.faults.push(Fault::SailCrosses(i)),
                Err(false) => self.faults.push(Fault::SailEmpty(i)),
            }
            sails.push(found.ok());
        }
        let together = sum.centre(sum.weight);
        self.rig_now = Some(RigNow {
            sails,
            lead: together.and_then(|all| self.lead(input, all.x)),
            together,
        });
    }

    fn steps(&mut self, input: &Input) {
        let conditions = &input.conditions;
        let mut full = None;
        for step in &input.steps {
            let (mut area, mut yaw) = (0.0, Sum::default());
            let mut pressed = Sum::default();
            let mut sails = Vec::new();
            for sail in &step.sails {
                area += sail.area;
                yaw.add(sail.area * sail.efficiency, sail.x, sail.squared, sail.z);
                pressed.add(sail.area * sail.force, 0.0, 0.0, sail.z);
                let stands = sail.area > 0.0;
                sails.push(SailAccount {
                    lead: self.lead(input, sail.x).filter(|_| stands),
                    margin: (stands && sail.chord > 0.0).then(|| sail.pressure_aft / sail.chord),
                });
            }
            let effort = pressed.centre(area);
            for windage in &step.windage {
                pressed.add(windage.area * windage.force, 0.0, 0.0, windage.z);
            }
            let felt = effort.or(pressed.centre(area));
            let centre = yaw.centre(area);
            if full.is_none() {
                full = centre;
            }
            let mut found = StepAccount {
                area,
                centre,
                lead: centre.and_then(|centre| self.lead(input, centre.x)),
                shift: match (full, centre) {
                    (Some(full), Some(centre)) => Some((full.x - centre.x) / input.hull.length),
                    _ => None,
                },
                sails,
                yaw_arm: centre.map(|_| yaw.y / yaw.weight),
                moment: pressed.z - self.pivot * pressed.weight,
                force: pressed.weight,
                height: felt.map_or(0.0, |centre| centre.z),
                on: None,
                off: None,
                knocked_down: None,
            };
            if let Some(curve) = &self.curve {
                let (held, reached) = curve.holds(conditions.comfort);
                let [crest, ..] = &curve.crests;
                let governs = match (reached, crest.passed) {
                    (true, _) => Governs::Heel,
                    (false, true) => Governs::KnockedDown,
                    (false, false) => Governs::Curve,
                };
                let limit = |moments: [f64; 5], share: f64, course: &Course, governs: Governs| {
                    let mut winds = moments;
                    let mut apparent = 0.0;
                    for (i, wind) in winds.iter_mut().enumerate() {
                        let speed = speed_of(*wind * share / found.moment);
                        if i == 0 {
                            apparent = speed;
                        }
                        *wind = if speed > 0.0 {
                            course
                                .forecast(speed, found.height, &conditions.gradient)
                                .unwrap_or(0.0)
                        } else {
                            0.0
                        };
                    }
                    let forecast = Banded::of(winds);
                    let real = found.moment > 0.0 && forecast.most.is_finite();
                    real.then(|| Limit {
                        apparent,
                        forecast,
                        beaufort: beaufort::number(forecast.value),
                        governs,
                    })
                };
                let running = Course {
                    wind_angle: core::f64::consts::PI,
                    ..conditions.course
                };
                let share = found.force / (conditions.running_force * area);
                let on = limit(held, 1.0, &conditions.course, governs);
                let off = limit(held, share, &running, Governs::Force);
                let knocked_down = if crest.passed {
                    let crests = curve.crests.map(|crest| crest.value);
                    limit(crests, 1.0, &conditions.course, Governs::KnockedDown)
                } else {
                    None
                };
                (found.on, found.off, found.knocked_down) = (on, off, knocked_down);
            }
            self.steps.push(found);
        }
    }

    fn ratios(&mut self, input: &Input) {
        let hull = &input.hull;
        let Some(mass) = displacement(input, 1) else {
            return;
        };
        let volume = mass / hull.water;
        let area = self.steps.first().map(|step| step.area);
        let finite = |ratio: f64| (ratio > 0.0 && ratio.is_finite()).then_some(ratio);
        self.ratios = Ratios {
            area_displacement: area.and_then(|area| sail_area_to_displacement(area, volume)),
            displacement_length: displacement_to_length(mass, hull.length),
            area_wetted: input.lateral.keel_area(hull).and_then(|keel| {
                finite(area? / wetted_surface(hull.length, hull.canoe_draught, volume, keel))
            }),
            block: finite(volume / (hull.length * hull.beam * hull.canoe_draught)),
        };
    }

    /// Heel at one step in a true wind at the gradient's height [m/s], on the wind; `None` without stability.
    pub fn heel(&self, step: usize, forecast: f64) -> Option<Heel> {
        let (curve, step) = (self.curve.as_ref()?, self.steps.get(step)?);
        let conditions = &self.conditions;
        let felt = conditions
            .course
            .felt(forecast, step.height, &conditions.gradient);
        Some(curve.heel(pressure(felt.speed) * step.moment))
    }

    /// The first step whose limit a true wind at the gradient's height [m/s] does not pass, on the wind or
    /// running; `None` without stability or steps.
    pub fn advice(&self, forecast: f64, running: bool) -> Option<Advice> {
        self.curve.as_ref()?;
        self.steps.first()?;
        let mut governs = None;
        for (i, step) in self.steps.iter().enumerate() {
            let limit = if running { step.off } else { step.on };
            match limit {
                Some(limit) if forecast > limit.forecast.value => governs = Some(limit.governs),
                // With nothing to press on, no wind is too much.
                _ => {
                    return Some(Advice {
                        step: Some(i),
                        governs,
                    });
                }
            }
        }
        Some(Advice {
            step: None,
            governs,
        })
    }
}
