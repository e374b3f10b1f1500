//! The order of work.

use crate::inclining::height_by_rolling;
use crate::lateral::outline;
use crate::ratios::{displacement_to_length, sail_area_to_displacement, wetted_surface};
use crate::righting::Balance;
use crate::stability::{Basis, Change, chosen, displacement};
use crate::{
    Account, Advice, Banded, Curve, Fault, Governs, Heel, Inclining, Input, Limit, Outline, Ratios,
    RigNow, SailAccount, StepAccount, Swap, finite,
};
use core::f64::consts::PI;
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
    let test = Inclining::fit(&input.readings);
    let basis = Basis {
        input,
        test: &test,
        table: &crate::table::nodes(&input.table),
    };
    basis.faults(&mut faults);
    let mut account = Account {
        loadings: [None; 3],
        curve: None,
        test: None,
        rolled: None,
        swap: None,
        resistance: None,
        pivot: -0.5 * hull.draught,
        rig_now: None,
        steps: Vec::new(),
        ratios: Ratios::default(),
        conditions: input.conditions,
        faults,
    };
    if let Some(period) = input.roll.period {
        account.rolled = height_by_rolling(input.roll.gyration, period);
    }
    if real {
        let sound = account.faults.is_empty();
        account.stability(&basis);
        if sound && account.curve.is_none() {
            account.faults.push(Fault::Number);
        }
        match input.lateral.resistance(hull) {
            Ok(found) => {
                account.pivot = found.z;
                account.resistance = Some(found);
            }
            Err(fault) => account.faults.push(fault),
        }
        account.steps(input);
        account.ratios(input);
    }
    account.rig_now(input);
    account.test = test.ok();
    account
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
    fn stability(&mut self, basis: &Basis) {
        let (input, hull) = (basis.input, &basis.input.hull);
        let change = Change::of(input);
        let chosen = chosen(input);
        let mut curve = Curve::new(input, basis.table);
        for (which, loading) in self.loadings.iter_mut().enumerate() {
            *loading = basis.loading(which, &change, &mut curve);
        }
        if !(input.off.is_empty() && input.on.is_empty()) {
            // GM_L taken as BM_L: m g BM_L = ρ g I_L.
            let ahead = change.along - 0.5 * hull.length * change.mass;
            let trim = hull.length * ahead / (hull.water * hull.longitudinal_moment());
            if !trim.is_finite() {
                self.faults.push(Fault::Number);
                return;
            }
            self.swap = Some(Swap {
                before: basis.loading(chosen, &Change::default(), &mut curve),
                mass: change.mass,
                sinkage: change.mass / (hull.water * hull.waterplane_area()),
                trim,
            });
        }
        // Once more, for the curve.
        if let Some(loading) = basis.loading(chosen, &change, &mut curve) {
            if loading.stiffness.value < 0.0 {
                self.faults.push(Fault::Lolls);
            }
            curve.balance(input.conditions.comfort, input.conditions.exponent);
            self.curve = Some(curve);
        }
    }

    /// Lead of a centre of effort at x [m] as a share of LWL.
    fn lead(&self, input: &Input, x: f64) -> Option<f64> {
        finite((self.resistance?.x - x) / input.hull.length)
    }

    fn rig_now(&mut self, input: &Input) {
        let mut sum = Sum::default();
        for (i, points) in input.sails_now.iter().enumerate() {
            match outline(points, f64::INFINITY) {
                Ok(sail) => sum.add(sail.area, sail.x, 0.0, sail.z),
                Err(crosses) => self.faults.push(if crosses {
                    Fault::SailCrosses(i)
                } else {
                    Fault::SailEmpty(i)
                }),
            }
        }
        if let Some(together) = sum.centre(sum.weight) {
            self.rig_now = Some(RigNow {
                lead: self.lead(input, together.x),
                together,
            });
        }
    }

    fn steps(&mut self, input: &Input) {
        let mut full = f64::NAN;
        for step in &input.steps {
            let (mut area, mut weighed, mut pressed) = (0.0, Sum::default(), Sum::default());
            let mut sails = Vec::new();
            for sail in &step.sails {
                area += sail.area;
                weighed.add(sail.area * sail.efficiency, sail.x, sail.squared, sail.z);
                pressed.add(sail.area * sail.force, 0.0, 0.0, sail.z);
                let mut found = SailAccount {
                    lead: None,
                    margin: None,
                };
                if sail.area > 0.0 {
                    found.lead = self.lead(input, sail.x);
                    found.margin = finite(sail.pressure_aft / sail.chord);
                }
                sails.push(found);
            }
            let mut height = pressed.z / pressed.weight;
            for windage in &step.windage {
                pressed.add(windage.area * windage.force, 0.0, 0.0, windage.z);
            }
            if height.is_nan() {
                height = pressed.z / pressed.weight;
            }
            let x = weighed.x / weighed.weight;
            if full.is_nan() {
                full = x;
            }
            let mut found = StepAccount {
                area,
                centre: weighed.centre(area),
                lead: self.lead(input, x),
                shift: finite((full - x) / input.hull.length),
                sails,
                yaw_arm: finite(weighed.y / weighed.weight),
                moment: pressed.z - self.pivot * pressed.weight,
                force: pressed.weight,
                height: finite(height).unwrap_or(0.0),
                on: None,
                off: None,
                knocked_down: None,
            };
            if !(found.moment + weighed.x + weighed.y).is_finite() {
                self.faults.push(Fault::Number);
                return;
            }
            self.limits(input, &mut found);
            self.steps.push(found);
        }
    }

    fn limits(&self, input: &Input, step: &mut StepAccount) {
        let Some(curve) = &self.curve else { return };
        let conditions = &input.conditions;
        let limit = |moment: &dyn Fn(&Balance) -> f64, angle: f64, governs: Governs| {
            let course = Course {
                wind_angle: angle,
                ..conditions.course
            };
            let mut apparent = 0.0;
            let forecast = Banded::of(&mut |end| {
                let speed = speed_of(curve.balances.get(end).map_or(0.0, moment) / step.moment);
                if end == 0 {
                    apparent = speed;
                }
                let wind = course.forecast(speed, step.height, &conditions.gradient);
                wind.filter(|_| speed > 0.0).unwrap_or(0.0)
            });
            // What cannot be told carries no wind.
            let (apparent, forecast) = if forecast.is_finite() && apparent.is_finite() {
                (apparent, forecast)
            } else {
                (0.0, Banded::default())
            };
            (step.moment > 0.0).then_some(Limit {
                apparent,
                forecast,
                beaufort: beaufort::number(forecast.value),
                governs,
            })
        };
        let [Balance { crest, .. }, ..] = curve.balances;
        let governs = if conditions.comfort < crest.heel {
            Governs::Heel
        } else if crest.passed {
            Governs::KnockedDown
        } else {
            Governs::Curve
        };
        let share = step.force / (conditions.running_force * step.area);
        let ahead = conditions.course.wind_angle;
        let on = limit(&|b| b.held, ahead, governs);
        let (mut off, mut down) = (None, None);
        if step.area > 0.0 {
            off = limit(&|b| b.held * share, PI, Governs::Force);
        }
        if crest.passed {
            down = limit(&|b| b.crest.value, ahead, Governs::KnockedDown);
        }
        (step.on, step.off, step.knocked_down) = (on, off, down);
    }

    fn ratios(&mut self, input: &Input) {
        let hull = &input.hull;
        let Some(mass) = displacement(input, 1) else {
            return;
        };
        // With the new rig on her, as all else.
        let mass = mass + self.swap.map_or(0.0, |swap| swap.mass);
        let volume = mass / hull.water;
        self.ratios.displacement_length = displacement_to_length(mass, hull.length);
        self.ratios.block = finite(volume / (hull.length * hull.beam * hull.canoe_draught));
        if let Some(full) = self.steps.first() {
            self.ratios.area_displacement = sail_area_to_displacement(full.area, volume);
            if self.resistance.is_some() {
                let keel = input.lateral.keel_area(hull);
                let wetted = wetted_surface(hull.length, hull.canoe_draught, volume, keel);
                self.ratios.area_wetted = finite(full.area / wetted);
            }
        }
    }

    /// Heeling moment upright [N m] at one step in a true wind at the gradient's height [m/s], on the
    /// wind; heeled it falls with cosⁿ φ.
    pub fn heeling(&self, step: usize, forecast: f64) -> Option<f64> {
        let felt = self.felt(step, forecast)?;
        Some(pressure(felt) * self.steps.get(step)?.moment)
    }

    /// Apparent wind [m/s] at the height of a step's CE in a true wind at the gradient's height [m/s], on
    /// the wind. In a light air she goes no faster than the wind itself.
    pub fn felt(&self, step: usize, forecast: f64) -> Option<f64> {
        let (height, conditions) = (self.steps.get(step)?.height, &self.conditions);
        let mut course = conditions.course;
        if course.boat_speed > forecast {
            course.boat_speed = forecast;
        }
        Some(course.felt(forecast, height, &conditions.gradient).speed)
    }

    /// Heel at one step in a true wind at the gradient's height [m/s], on the wind; `None` without stability.
    pub fn heel(&self, step: usize, forecast: f64) -> Option<Heel> {
        let curve = self.curve.as_ref()?;
        let upright = self.heeling(step, forecast)?;
        Some(curve.heel(upright, self.conditions.exponent))
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
