//! The site file of an invented pad: everything but name and highest speed may be missing.

use crate::stream::Stream;

use super::Pad;

/// Writes the site file.
pub(super) fn text(pad: &Pad, stream: &mut Stream) -> String {
    let mut parts = vec![format!(
        "format = 1\nname = \"Generated\"\nunits = \"{}\"\n",
        if pad.is_us { "us" } else { "si" }
    )];
    parts.extend(stream.happens(0.7).then(|| water(pad)));
    parts.extend(stream.happens(0.5).then(|| place(pad, stream)));
    parts.push(pump(pad, stream));
    if pad.has_two_flow_meters || stream.happens(0.5) {
        parts.push(flow_meter(pad, "A", stream));
    }
    if pad.has_two_flow_meters {
        parts.push(flow_meter(pad, "B", stream));
    }
    parts.extend(stream.happens(0.4).then(|| gauge(pad)));
    if stream.happens(0.7) {
        parts.extend(lines(pad, stream));
    }
    parts.extend(stream.happens(0.5).then(|| limits(stream)));
    parts.extend(pad.has_two_flow_meters.then(|| operation(pad)));
    parts.join("\n")
}

/// What a day asks for, under prices that change; a task of half the highest flow.
fn operation(pad: &Pad) -> String {
    let flow = 0.5 * pad.top_flow_gpm * pad.flow_unit.per_own;
    format!(
        "[operation]\ntasks = [ {{ name = \"skimming\", min_flow = \"{flow:.2} {}\", hours = 3, between = [\"08:00\", \"20:00\"] }} ]\n\
         tariff = [ {{ from = \"16:00\", to = \"21:00\", price = \"0.52 USD/kWh\" }}, {{ from = \"21:00\", to = \"16:00\", price = \"0.24 USD/kWh\" }} ]\n\
         quiet = [ {{ from = \"22:00\", to = \"07:00\", max_speed = \"1800 rpm\" }} ]\nmax_starts = 2\nmax_speeds = 3\n\
         as_found = [ {{ from = \"09:00\", to = \"17:00\", speed = \"{:.0} rpm\" }} ]\n",
        pad.flow_unit.name,
        0.8 * pad.top_speed_rpm
    )
}

fn water(pad: &Pad) -> String {
    let (volume, temperature) = if pad.is_us {
        ("18500 gal", "80 degF")
    } else {
        ("70 m3", "26.5 degC")
    };
    format!(
        "[water]\nvolume = \"{volume}\"\ntemperature = \"{temperature}\"\nsalinity = \"3.2 g/L\"\n"
    )
}

fn place(pad: &Pad, stream: &mut Stream) -> String {
    let elevation = stream.between(0.0, 2000.0);
    format!(
        "[place]\nelevation = \"{elevation:.0} {}\"\n",
        length_unit(pad)
    )
}

fn pump(pad: &Pad, stream: &mut Stream) -> String {
    let speed_rpm = pad.top_speed_rpm;
    let height = stream.between(-1.0, 2.0);
    let mut lines = vec![
        "[pump]".to_owned(),
        format!("speed = {{ min = \"450 rpm\", max = \"{speed_rpm:.0} rpm\" }}"),
        format!("supply = \"{:.0} V\"", pad.supply_v),
    ];
    if stream.happens(0.6) {
        lines.push(format!("height = \"{height:.2} {}\"", length_unit(pad)));
    }
    if stream.happens(0.4) {
        lines.push(format!("curve_speed = \"{speed_rpm:.0} rpm\""));
        lines.push(format!("curve = [ {} ]", curve(pad, stream)));
    }
    lines.join("\n") + "\n"
}

/// A maker's curve that falls with the square of the flow.
fn curve(pad: &Pad, stream: &mut Stream) -> String {
    let shut_off_m = stream.between(18.0, 30.0);
    let point = |share: f64| {
        let flow = typed_flow(pad, pad.top_flow_gpm * share);
        let head_m = shut_off_m * (1.0 - 0.4 * share * share);
        let npshr_m = 1.5 + 2.0 * share;
        format!("{{ flow = \"{flow}\", head = \"{head_m:.1} m\", npshr = \"{npshr_m:.1} m\" }}")
    };
    [0.0, 0.4, 0.8, 1.2].map(point).join(", ")
}

fn flow_meter(pad: &Pad, id: &str, stream: &mut Stream) -> String {
    let kind = stream.one_of(&["paddle", "float", "clamp-on", "magnetic", "pump display"]);
    let mut lines = vec![format!(
        "[[meter]]\nid = \"{id}\"\nmeasures = \"flow\"\nkind = \"{kind}\""
    )];
    if stream.happens(0.6) {
        let fixed = typed_flow(pad, 0.5);
        let low = typed_flow(pad, 5.0);
        let high = typed_flow(pad, pad.top_flow_gpm * stream.between(0.9, 1.5));
        lines.push(format!("accuracy = [\"2 % of reading + {fixed}\"]"));
        lines.push(format!("range = [\"{low}\", \"{high}\"]"));
    }
    if stream.happens(0.3) {
        lines.push("share_common = 0.7".to_owned());
    }
    lines.join("\n") + "\n"
}

fn gauge(pad: &Pad) -> String {
    let (range, height) = if pad.is_us {
        ("60 psi", "4 ft")
    } else {
        ("4 bar", "1.2 m")
    };
    format!(
        "[[meter]]\nid = \"G\"\nmeasures = \"pressure\"\nkind = \"gauge\"\ntap = \"filter inlet\"\n\
         height = \"{height}\"\naccuracy = [\"3 % of full scale\"]\nrange = [\"0 psi\", \"{range}\"]\n"
    )
}

fn lines(pad: &Pad, stream: &mut Stream) -> [String; 3] {
    let suction = format!(
        "{{ skimmer = \"basket\" }}, {}, {{ valve = \"ball\" }}",
        pipe(pad, stream)
    );
    let filter_flow = typed_flow(pad, pad.top_flow_gpm);
    let filter = format!(
        "{{ filter = \"cartridge\", clean = {{ flow = \"{filter_flow}\", drop = \"2.4 psi\" }}, max_flow = \"{filter_flow}\" }}"
    );
    let heater =
        "{ heater = \"gas\", at = { flow = \"60 gpm\", drop = \"3 psi\" }, min_flow = \"35 gpm\" }";
    let equipment = if stream.happens(0.5) {
        format!("{filter}, {heater}")
    } else {
        filter
    };
    let back = format!(
        "{}, {{ outlet = \"eyeball\", bore = \"0.75 in\", count = 2 }}",
        pipe(pad, stream)
    );
    [
        line("suction", ("pool", "pump inlet"), &suction),
        line("equipment", ("pump outlet", "pad outlet"), &equipment),
        line("return", ("pad outlet", "pool"), &back),
    ]
}

fn line(name: &str, (from, to): (&str, &str), parts: &str) -> String {
    format!("[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {parts} ]\n")
}

fn pipe(pad: &Pad, stream: &mut Stream) -> String {
    let length = stream.between(10.0, 90.0);
    let elbows = stream.one_of(&[1, 4, 9]);
    let pipe = if pad.is_us {
        let size = stream.one_of(&["1-1/2 in", "2 in", "2-1/2 in", "3 in"]);
        format!("pipe = \"{size}\", spec = \"PVC Sch 40\", length = \"{length:.1} ft\"")
    } else {
        let bore = stream.one_of(&["45.2 mm", "57 mm", "67.8 mm"]);
        format!(
            "pipe_bore = \"{bore}\", roughness = \"0.0015 mm\", length = \"{:.1} m\"",
            length / 3.0
        )
    };
    format!("{{ {pipe} }}, {{ fitting = \"90 elbow\", count = {elbows} }}")
}

fn limits(stream: &mut Stream) -> String {
    let rules = stream.one_of(&["residential", "public"]);
    let own = if stream.happens(0.5) {
        "suction_velocity = \"1.7 m/s\"\n"
    } else {
        ""
    };
    format!("[limits]\nrules = \"{rules}\"\n{own}")
}

/// A flow as it is typed: two decimals, and the unit.
fn typed_flow(pad: &Pad, flow_gpm: f64) -> String {
    format!(
        "{:.2} {}",
        flow_gpm * pad.flow_unit.per_own,
        pad.flow_unit.name
    )
}

fn length_unit(pad: &Pad) -> &'static str {
    if pad.is_us { "ft" } else { "m" }
}
