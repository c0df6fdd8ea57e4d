//! Circles among the arrows, on the level of files and on that of folders.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fmt::Write as _;

use crate::arrows::{Arrow, arrows};
use crate::sources::Sources;

/// Where each node leads, and by which arrows.
type Graph<'a> = BTreeMap<String, BTreeMap<String, Vec<&'a Arrow>>>;

/// Lines shown of each arrow of a circle.
const SHOWN: usize = 3;

/// Every circle of a crate, told with the lines that make it. Of circles that hang together the
/// shortest is told, and what else hangs in the knot is named.
pub(crate) fn circles(sources: &Sources) -> Vec<String> {
    let arrows = arrows(sources);
    let mut texts = Vec::new();
    for (parent, module) in sources.modules.iter().enumerate() {
        if !module.children.is_empty() {
            let of = if module.path.is_empty() { "the crate".to_owned() } else { module.path.join("::") };
            texts.extend(knots(
                sources,
                &format!("the modules of {of}"),
                &among_children(sources, parent, &arrows),
            ));
        }
    }
    texts.extend(knots(sources, "files", &among_files(sources, &arrows)));
    texts
}

/// The children of a module, each with all that stands in it.
fn among_children<'a>(sources: &Sources, parent: usize, arrows: &'a [Arrow]) -> Graph<'a> {
    let depth = sources.modules[parent].path.len();
    let node = |module: usize| {
        sources.is_within(module, parent).then(|| sources.modules[module].path.get(depth).cloned()).flatten()
    };
    let mut graph = Graph::new();
    for arrow in arrows {
        let Some(from) = node(arrow.from) else { continue };
        // What a path leads through is leaned upon too, but for the houses that its writer stands in.
        let through = arrow.through.iter().filter(|&&module| !sources.is_within(arrow.from, module));
        for to in through.copied().chain([arrow.to]).filter_map(node).collect::<BTreeSet<_>>() {
            if to != from {
                graph.entry(from.clone()).or_default().entry(to).or_default().push(arrow);
            }
        }
    }
    graph
}

fn among_files<'a>(sources: &Sources, arrows: &'a [Arrow]) -> Graph<'a> {
    let file = |module: usize| sources.modules[module].file.display().to_string();
    let mut graph = Graph::new();
    for arrow in arrows {
        let (from, to) = (file(arrow.from), file(arrow.to));
        if from != to {
            graph.entry(from).or_default().entry(to).or_default().push(arrow);
        }
    }
    graph
}

/// One text for each knot of a graph.
fn knots(sources: &Sources, among: &str, graph: &Graph<'_>) -> Vec<String> {
    let mut done = BTreeSet::new();
    let mut texts = Vec::new();
    for start in graph.keys() {
        if done.contains(start) {
            continue;
        }
        let knot: BTreeSet<&String> =
            reached(graph, start).into_iter().filter(|node| reached(graph, node).contains(start)).collect();
        if knot.is_empty() {
            continue;
        }
        done.extend(knot.iter().copied());
        let shortest = knot.iter().filter_map(|node| way_back(graph, node)).min_by_key(Vec::len);
        let Some(circle) = shortest else { continue };
        let mut text = format!("a circle among {among}: {}", circle.join(" → "));
        for step in circle.windows(2) {
            let arrows = &graph[&step[0]][&step[1]];
            for arrow in arrows.iter().take(SHOWN) {
                let file = sources.modules[arrow.from].file.display();
                let _ = write!(text, "\n    {file}:{} names {}", arrow.line, arrow.path);
            }
            if arrows.len() > SHOWN {
                let _ = write!(text, "\n    … and {} lines more lead to {}", arrows.len() - SHOWN, step[1]);
            }
        }
        let others: Vec<&str> =
            knot.iter().filter(|node| !circle.contains(node)).map(|node| node.as_str()).collect();
        if !others.is_empty() {
            let _ = write!(text, "\n    in the same knot: {}", others.join(", "));
        }
        texts.push(text);
    }
    texts
}

/// Everything that can be reached from a node by one arrow or more.
fn reached<'g>(graph: &'g Graph<'_>, start: &str) -> BTreeSet<&'g String> {
    let mut reached = BTreeSet::new();
    let mut open = vec![start];
    while let Some(node) = open.pop() {
        for next in graph.get(node).into_iter().flat_map(BTreeMap::keys) {
            if reached.insert(next) {
                open.push(next);
            }
        }
    }
    reached
}

/// The shortest way from a node back to itself.
fn way_back(graph: &Graph<'_>, start: &str) -> Option<Vec<String>> {
    let mut open = VecDeque::from([vec![start.to_owned()]]);
    let mut seen = BTreeSet::new();
    while let Some(way) = open.pop_front() {
        for next in way.last().and_then(|node| graph.get(node)).into_iter().flat_map(BTreeMap::keys) {
            let longer = || [way.as_slice(), std::slice::from_ref(next)].concat();
            if next == start {
                return Some(longer());
            }
            if seen.insert(next) {
                open.push_back(longer());
            }
        }
    }
    None
}
