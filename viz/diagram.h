// A diagram before it is drawn: boxes and lines with what they mean, not how they look.
//
// An answer of queries/ is turned into a Diagram (chain.h, argument.h, ...); the writers (dot.h, svg.h) turn a
// Diagram into a file. Texts may hold any bytes a user can type: writers clean and escape them. Order is meaning:
// nodes and lines are drawn, numbered and read out in the order they stand here, so equal answers give equal files.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar::viz {

// The outline of a box. Which kind of thing gets which outline is said in notation.h.
enum class Outline { box, rounded, pill, lintel, hexagon, slanted, octagon, folded, footed, framed, card, bare };

struct DiagramNode {
    std::string key;   // key or content id of what it shows, for whoever links the picture; may be empty
    std::string kind;  // the kind as a word: "shape", "source", "claim"
    Outline outline = Outline::box;
    std::string label;
    std::string note;              // a second, smaller text: dates, a likelihood word; may be empty
    std::optional<double> weight;  // 0..1, printed with two decimals
    std::vector<int> citations;    // numbers in Diagram::citations
    bool disputed = false;         // sources contradict each other about it
    bool ruled = false;            // a ruling has been given
    bool caution = false;          // a caution of Diagram::cautions is about it
    bool focus = false;            // what the picture is about; drawn with a heavier outline
};

// What a line stands for; each has its own drawing.
enum class LineRole {
    claim,      // a proposition that joins two things
    evidence,   // a source speaks for or against a claim
    inference,  // premises make a conclusion likely
    copy,       // one source was taken from another
    tie,        // two things stand together, nothing more is said (undirected)
};

struct DiagramEdge {
    std::size_t from = 0;  // index into Diagram::nodes
    std::size_t to = 0;
    LineRole role = LineRole::claim;
    std::string key;               // content id, may be empty
    std::string label;             // the relation in words; may be empty
    std::optional<double> weight;  // 0..1: the line style and a number
    std::optional<Stance> stance;  // set: the line itself speaks for or against its head
    std::vector<int> cited_for;    // citation numbers
    std::vector<int> cited_against;
    bool inferred = false;  // no source says it: it follows from other claims
    bool disputed = false;
    bool ruled = false;
};

struct Citation {
    int number = 0;
    std::string text;  // a full note
};

struct LegendEntry {
    std::string sign;  // short, at most three signs: "+", "b"
    std::string meaning;
};

enum class Flow { down, up, right };

struct Diagram {
    std::string name;  // of the kind of picture, one token: "chain", "argument"
    std::string title;
    std::string description;  // one or two sentences: what the picture claims and how surely
    Flow flow = Flow::down;
    std::vector<DiagramNode> nodes;
    std::vector<DiagramEdge> edges;
    std::vector<LegendEntry> legend;  // beyond what the marks themselves call for
    std::vector<Citation> citations;  // numbered from 1, ascending
    std::vector<std::string> cautions;
    std::string left_out;   // what is not shown and why; empty: nothing is left out
    std::string made_from;  // "graph entry 812, profile 1, as of 1962"; stands at the foot
};

// Throws UsageFault where an edge names a node that is not there or a number a citation that is not there.
void check(const Diagram& diagram);

}  // namespace saggar::viz
