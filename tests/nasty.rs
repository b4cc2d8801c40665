//! Files that nobody writes and somebody sends: each kind grows to any size.
#![allow(dead_code, reason = "each target takes what it needs")]

use wheelrate::demo::PATROL;

const WORKSHOP: &str = include_str!("files/workshop.toml");

/// How a text is read.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Written {
    Toml,
    Json,
}

/// A kind of nasty file.
pub struct Nasty {
    pub name: &'static str,
    pub written: Written,
    /// What stands before what is repeated, what is repeated (given which of them it is), and what stands after it.
    head: String,
    part: fn(usize) -> String,
    tail: String,
}

impl Nasty {
    /// The file with so many of its parts.
    pub fn of(&self, parts: usize) -> String {
        let mut text = self.head.clone();
        for at in 0..parts {
            text.push_str(&(self.part)(at));
        }
        text + &self.tail
    }

    /// The file with as many of its parts as go into so many bytes.
    pub fn sized(&self, bytes: usize) -> String {
        let mut text = self.head.clone();
        let mut at = 0;
        while text.len() + self.tail.len() < bytes {
            text.push_str(&(self.part)(at));
            at += 1;
        }
        text + &self.tail
    }
}

const TOP: &str = "format = 1\n";

/// A day from the first of the year 2000 on, each of them another.
fn day(at: usize) -> String {
    format!("{:04}-{:02}-{:02}", 2000 + at / 336, 1 + at / 28 % 12, 1 + at % 28)
}

fn toml(name: &'static str, head: &str, part: fn(usize) -> String, tail: &'static str) -> Nasty {
    Nasty { name, written: Written::Toml, head: head.to_owned(), part, tail: tail.to_owned() }
}

fn json(name: &'static str, head: &str, part: fn(usize) -> String, tail: &'static str) -> Nasty {
    Nasty { name, written: Written::Json, head: head.to_owned(), part, tail: tail.to_owned() }
}

/// The workshop's bike, sound but for one list that is filled with other rows.
fn workshop(name: &'static str, list: &str, part: fn(usize) -> String) -> Nasty {
    let (head, rest) = WORKSHOP.split_once(list).expect(list);
    let mut open = 1;
    let end = rest.find(|sign| {
        open += i32::from(sign == '[') - i32::from(sign == ']');
        open == 0
    });
    let tail = end.map_or("", |end| &rest[end..]);
    Nasty { name, written: Written::Toml, head: format!("{head}{list}"), part, tail: tail.to_owned() }
}

/// Every kind.
pub fn all() -> Vec<Nasty> {
    // The patrol's bike without its readings, which rows of other days would contradict.
    let bike = PATROL.split("[[reading]]").next().unwrap_or_default();
    vec![
        toml("nothing but a comment", TOP, |_| "# far too much was said about this\n".to_owned(), ""),
        toml("one comment", TOP, |_| "#".to_owned(), ""),
        toml("empty lines", TOP, |_| "\n".to_owned(), ""),
        toml("one number", "format = ", |_| "1".to_owned(), "\n"),
        toml("one fraction", "format = 1.", |_| "0".to_owned(), "\n"),
        toml("one text", "format = 1\n[bike]\nname = \"", |_| "a".to_owned(), "\"\n"),
        toml("a text that never ends", "format = 1\n[bike]\nname = \"", |_| "a".to_owned(), ""),
        toml("one text where a length stands", "format = 1\n[front.fork]\ntravel = \"", |_| "9".to_owned(), " mm\"\n"),
        toml("one unit", "format = 1\n[front.fork]\ntravel = \"9 ", |_| "m".to_owned(), "\"\n"),
        toml("one load", "format = 1\n[[reading]]\nend = \"rear\"\nload = \"", |_| "bike + ".to_owned(), "\"\n"),
        toml("one date", "format = 1\n[[change]]\ndate = \"", |_| "2026-".to_owned(), "\"\n"),
        toml("one key", TOP, |_| "k".to_owned(), " = 1\n"),
        toml("one key of points", TOP, |_| "a.".to_owned(), "a = 1\n"),
        toml(
            "one address",
            "format = 1\n[[change]]\ndate = \"2026-06-14\"\nadded = [\"",
            |_| "a.".to_owned(),
            "a\"]\n",
        ),
        toml("escapes", "format = 1\n[bike]\nname = \"", |_| "\\u202e".to_owned(), "\"\n"),
        toml("a deep list", "format = 1\ndeep = ", |_| "[".to_owned(), ""),
        toml("deep tables", "format = 1\ndeep = ", |_| "{a=".to_owned(), ""),
        toml("a wide list", "format = 1\nwide = [", |_| "1,".to_owned(), "]\n"),
        toml("a wide list of lists", "format = 1\nwide = [", |_| "[],".to_owned(), "]\n"),
        toml("springs on sale", "format = 1\n[on_sale]\nrear = [", |_| "\"52 N/mm\",".to_owned(), "]\n"),
        toml("springs on sale without units", "format = 1\n[on_sale]\nrear = [", |_| "1,".to_owned(), "]\n"),
        toml("unknown keys", TOP, |at| format!("k{at} = 1\n"), ""),
        toml("short unknown keys", TOP, |at| format!("{at:x}=1\n"), ""),
        toml("misspelt keys", TOP, |at| format!("reading{at} = 1\n"), ""),
        toml("the same key", TOP, |_| "a = 1\n".to_owned(), ""),
        toml("unknown tables", TOP, |at| format!("[t{at}]\n"), ""),
        toml("broken lines", TOP, |_| "a = = 1\n".to_owned(), ""),
        toml("lines that are none", TOP, |_| "]\n".to_owned(), ""),
        toml("equals signs", TOP, |_| "=".to_owned(), ""),
        toml("quotes", TOP, |_| "\"".to_owned(), ""),
        toml("zero bytes", TOP, |_| "\0".to_owned(), ""),
        toml("letters of four bytes", TOP, |_| "𝄞".to_owned(), ""),
        toml("readings", bike, |_| "[[reading]]\nend=\"rear\"\nload=\"none\"\ndistance=\"655 mm\"\n".to_owned(), ""),
        toml(
            "readings of many days",
            bike,
            |at| format!("[[reading]]\nend=\"rear\"\nload=\"none\"\ndistance=\"655 mm\"\ndate=\"{}\"\n", day(at)),
            "",
        ),
        toml(
            "sets of many days",
            bike,
            |at| {
                let row = |load: &str, mm: usize| {
                    format!("[[reading]]\nend=\"rear\"\nload=\"{load}\"\ndistance=\"{mm} mm\"\ndate=\"{}\"\n", day(at))
                };
                row("none", 655) + &row("bike + rider", 551)
            },
            "",
        ),
        toml("bad readings", TOP, |_| "[[reading]]\nend=\"rear\"\nload=\"none\"\ndistance=\"655 kg\"\n".to_owned(), ""),
        toml("empty readings", TOP, |_| "[[reading]]\n".to_owned(), ""),
        toml(
            "readings out of the travel",
            bike,
            |_| "[[reading]]\nend=\"rear\"\nload=\"bike + rider\"\ndistance=\"9 mm\"\n".to_owned(),
            "",
        ),
        toml(
            "changes",
            bike,
            |at| {
                let rate = 50 + at % 5;
                format!("[[change]]\ndate=\"{}\"\nwas={{\"rear.shock.spring.rate\"=\"{rate} N/mm\"}}\n", day(at))
            },
            "",
        ),
        toml("changes of nothing", TOP, |at| format!("[[change]]\ndate=\"{}\"\n", day(at)), ""),
        toml("changes that cannot be undone", TOP, |at| format!("[[change]]\ndate=\"{}\"\nwas={{a=1}}\n", day(at)), ""),
        toml(
            "one change of many keys",
            "format = 1\n[[change]]\ndate = \"2026-06-14\"\n[change.was]\n",
            |at| format!("\"rear.k{at}\" = \"1\"\n"),
            "",
        ),
        toml("masses", "format = 1\n[masses]\n", |at| format!("m{at}={{front=\"1 kg\",rear=\"1 kg\"}}\n"), ""),
        toml("scenarios", bike, |at| format!("[[scenario]]\nname=\"s{at}\"\nload=\"bike + rider\"\n"), ""),
        toml("points", "format = 1\n[rear.linkage.points]\nunit = \"mm\"\n", |at| format!("p{at}=[{at},0]\n"), ""),
        toml(
            "points in one place",
            "format = 1\n[rear.linkage.points]\n",
            |at| format!("p{at}=[\"1 mm\",\"1 mm\"]\n"),
            "",
        ),
        toml("bodies", "format = 1\n[rear.linkage.bodies]\n", |at| format!("b{at}=[\"a\",\"b\"]\n"), ""),
        toml("an open chain", CHAIN, link, "rear.linkage.wheel = \"p1\"\nrear.linkage.shock = [\"p0\", \"p1\"]\n"),
        toml("legs", "format = 1\n[front.fork]\ntravel=\"290 mm\"\n", |_| "[[front.fork.leg]]\n".to_owned(), ""),
        toml(
            "a stack of springs",
            "format = 1\n[rear.shock]\nlength=\"468 mm\"\nstroke=\"118 mm\"\nspring={preload=\"1 mm\",stack=[",
            |_| "{rate=\"9 N/mm\"},".to_owned(),
            "]}\n",
        ),
        toml(
            "a list where a measured linkage stands",
            "format = 1\n[rear]\nmeasured = [",
            |at| length(at as f64, 1.0),
            "]\n",
        ),
        workshop("a measured linkage", "[rear.measured]\nreadings = [", |at| {
            length(place(at), 469.0 - 0.39 * place(at))
        }),
        workshop("a measured linkage that jumps", "[rear.measured]\nreadings = [", |at| length(place(at), jump(at))),
        workshop("a measured linkage that scatters", "[rear.measured]\nreadings = [", |at| {
            length(place(at), 469.0 - 0.39 * place(at) + scatter(at))
        }),
        workshop("a spring on a press", "\nspring = { measured = { readings = [", |at| {
            force(250.0 - place(at), 39.0 * place(at))
        }),
        workshop("a spring that pulls", "\nspring = { measured = { readings = [", |at| {
            force(250.0 - place(at), 999.0 - place(at))
        }),
        workshop("a spring that scatters", "\nspring = { measured = { readings = [", |at| {
            force(250.0 - place(at), 39.0 * (place(at) + scatter(at)).max(0.0))
        }),
        workshop("a spring that jumps", "\nspring = { measured = { readings = [", |at| {
            force(250.0 - place(at), jump(at))
        }),
        workshop("a stop that jumps", "\nbump_stop = { measured = { readings = [", |at| {
            force(place(at) / 20.0, jump(at))
        }),
        workshop("a tyre on scales", "tyre_readings = [", |at| {
            format!("[\"{} N\",\"{} mm\"],", 9 + at, 345.0 - 0.001 * at as f64)
        }),
        workshop("a tyre that jumps", "tyre_readings = [", |at| format!("[\"{} N\",\"{} mm\"],", 9 + at, jump(at))),
        workshop("riders", "\neach = [", |_| "{mass=\"80 kg\"},".to_owned()),
        workshop("riders without a mass", "\neach = [", |_| "{},".to_owned()),
        workshop("loads of riders", "\nloads = [", |_| "{load=\"bike + rider\"},".to_owned()),
        toml("practice", "format = 1\n", |_| "[[targets.practice]]\n".to_owned(), ""),
        json("a deep list in JSON", "{\"format\": 1, \"deep\": ", |_| "[".to_owned(), ""),
        json("a wide list in JSON", "{\"format\": 1, \"wide\": [0", |_| ",1".to_owned(), "]}"),
        json("a wide list of lists in JSON", "{\"format\": 1, \"wide\": [0", |_| ",[]".to_owned(), "]}"),
        json("one number in JSON", "{\"format\": 1", |_| "1".to_owned(), "}"),
        json("one text in JSON", "{\"format\": 1, \"bike\": {\"name\": \"", |_| "a".to_owned(), "\"}}"),
        json("one key in JSON", "{\"format\": 1, \"", |_| "k".to_owned(), "\": 1}"),
        json("unknown keys in JSON", "{\"format\": 1", |at| format!(",\"k{at}\":1"), "}"),
        json("the same key in JSON", "{\"format\": 1", |_| ",\"a\":1".to_owned(), "}"),
        json("bad readings in JSON", "{\"format\": 1, \"reading\": [{}", |_| ",{\"end\":\"rear\"}".to_owned(), "]}"),
        json("nested readings in JSON", "{\"format\": 1, \"reading\": [", |_| "{\"reading\":[".to_owned(), ""),
    ]
}

/// Places up to 200 mm, all of them apart, and what no curve goes through.
fn place(at: usize) -> f64 {
    (at as f64 * 0.618_033_988_749_895).fract() * 200.0
}

/// Some millimetres either way, far more than such readings are off.
fn scatter(at: usize) -> f64 {
    20.0 * ((at as f64 * 0.414_213_562_373_095).fract() - 0.5)
}

fn jump(at: usize) -> f64 {
    (300 + at % 2 * 90) as f64
}

fn length(at: f64, length: f64) -> String {
    format!("[\"{at} mm\",\"{length} mm\"],")
}

fn force(at: f64, force: f64) -> String {
    format!("[\"{at} mm\",\"{force} N\"],")
}

/// What stands before the points of an open chain of links.
const CHAIN: &str =
    "format = 1\nrear.shock = { length = \"468 mm\", stroke = \"118 mm\", spring = { rate = \"52 N/mm\" } }\n";

/// Points and body of one link of an open chain.
fn link(at: usize) -> String {
    let next = at + 1;
    let x = 10 * at % 9000;
    let body = if at == 0 { "frame".to_owned() } else { format!("b{at}") };
    format!(
        "rear.linkage.points.p{at}=[\"{x} mm\",\"{} mm\"]\nrear.linkage.bodies.{body}=[\"p{at}\",\"p{next}\"]\n",
        at % 97
    )
}
