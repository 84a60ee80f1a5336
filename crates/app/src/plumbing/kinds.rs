//! What a form asks of each kind of part. A dot in a key leads into a table of the part: `at.flow`.

use fieldtest::fitting_words;
use hydraulics::fittings::valve::Valve;
use hydraulics::pipe::PipeSpec;

/// A kind of part.
#[derive(Clone, Copy, Debug)]
pub struct PartOfKind {
    /// Its key in the file.
    pub key: &'static str,
    /// What is asked of it; the first is the kind key itself.
    pub fields: &'static [PartField],
}

/// A field of a part.
#[derive(Clone, Copy, Debug)]
pub struct PartField {
    /// Its key in the part.
    pub key: &'static str,
    /// What it takes.
    pub kind: FieldKind,
}

/// What a field takes.
#[derive(Clone, Copy, Debug)]
pub enum FieldKind {
    /// A quantity with its unit, such as `46 ft`.
    Quantity,
    /// A word of our own choice.
    Word,
    /// A word of a list.
    OneOf(fn() -> Vec<&'static str>),
    /// A whole number.
    Count,
    /// A number without a unit.
    Number,
}

const fn quantity(key: &'static str) -> PartField {
    PartField {
        key,
        kind: FieldKind::Quantity,
    }
}

const fn word(key: &'static str) -> PartField {
    PartField {
        key,
        kind: FieldKind::Word,
    }
}

const fn one_of(key: &'static str, words: fn() -> Vec<&'static str>) -> PartField {
    PartField {
        key,
        kind: FieldKind::OneOf(words),
    }
}

const COUNT: PartField = PartField {
    key: "count",
    kind: FieldKind::Count,
};
const NUMBER_K: PartField = PartField {
    key: "k",
    kind: FieldKind::Number,
};

fn fittings() -> Vec<&'static str> {
    fitting_words().collect()
}

fn valves() -> Vec<&'static str> {
    Valve::ALL.into_iter().map(Valve::name).collect()
}

fn specs() -> Vec<&'static str> {
    PipeSpec::ALL.into_iter().map(PipeSpec::name).collect()
}

fn tees() -> Vec<&'static str> {
    vec!["run", "branch"]
}

fn covers() -> Vec<&'static str> {
    vec!["floor", "wall"]
}

/// The kinds, the commonest first.
pub const KINDS: [PartOfKind; 18] = [
    PartOfKind {
        key: "pipe",
        fields: &[
            quantity("pipe"),
            one_of("spec", specs),
            quantity("length"),
            COUNT,
        ],
    },
    PartOfKind {
        key: "fitting",
        fields: &[one_of("fitting", fittings), COUNT, quantity("size")],
    },
    PartOfKind {
        key: "valve",
        fields: &[
            one_of("valve", valves),
            quantity("open"),
            COUNT,
            quantity("size"),
        ],
    },
    PartOfKind {
        key: "tee",
        fields: &[one_of("tee", tees), COUNT, quantity("size")],
    },
    PartOfKind {
        key: "filter",
        fields: &[
            word("filter"),
            quantity("area"),
            quantity("clean.flow"),
            quantity("clean.drop"),
            quantity("max_flow"),
            quantity("max_pressure"),
        ],
    },
    PartOfKind {
        key: "heater",
        fields: &[
            word("heater"),
            quantity("at.flow"),
            quantity("at.drop"),
            quantity("min_flow"),
            quantity("max_flow"),
        ],
    },
    PartOfKind {
        key: "check_valve",
        fields: &[
            word("check_valve"),
            quantity("cracking"),
            quantity("kv"),
            quantity("size"),
        ],
    },
    PartOfKind {
        key: "cell",
        fields: &[
            word("cell"),
            quantity("at.flow"),
            quantity("at.drop"),
            quantity("min_flow"),
            quantity("max_flow"),
        ],
    },
    PartOfKind {
        key: "outlet",
        fields: &[word("outlet"), quantity("bore"), COUNT],
    },
    PartOfKind {
        key: "skimmer",
        fields: &[
            word("skimmer"),
            quantity("at.flow"),
            quantity("at.drop"),
            COUNT,
        ],
    },
    PartOfKind {
        key: "cover",
        fields: &[
            one_of("cover", covers),
            quantity("rating"),
            COUNT,
            quantity("at.flow"),
            quantity("at.drop"),
        ],
    },
    PartOfKind {
        key: "basket",
        fields: &[word("basket"), quantity("at.flow"), quantity("at.drop")],
    },
    PartOfKind {
        key: "reducer",
        fields: &[quantity("reducer"), one_of("spec", specs)],
    },
    PartOfKind {
        key: "solar",
        fields: &[
            word("solar"),
            quantity("height"),
            quantity("at.flow"),
            quantity("at.drop"),
            quantity("min_flow"),
            quantity("max_flow"),
        ],
    },
    PartOfKind {
        key: "spillover",
        fields: &[word("spillover"), quantity("height")],
    },
    PartOfKind {
        key: "flow_meter",
        fields: &[word("flow_meter"), quantity("at.flow"), quantity("at.drop")],
    },
    PartOfKind {
        key: "pipe_bore",
        fields: &[
            quantity("pipe_bore"),
            quantity("length"),
            quantity("roughness"),
            COUNT,
        ],
    },
    PartOfKind {
        key: "k",
        fields: &[NUMBER_K, COUNT],
    },
];

/// The kind of a key.
pub fn kind(key: &str) -> Option<&'static PartOfKind> {
    KINDS.iter().find(|kind| kind.key == key)
}
