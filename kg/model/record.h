// The records of the graph as people exchange them: entities, sources, claims, evidence, lists, arguments, rulings.
//
// These are plain values that name each other by key and content id. How they are laid out on disk is the business of
// kg/store; how they look as JSON is in record_json.h.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "kg/model/content_id.h"

namespace saggar {

struct Name {
    std::string text;
    std::string language;  // BCP 47, may be empty
    bool operator==(const Name&) const = default;
};

// A thing one can speak of: a shape, a person, a line, a piece.
struct Entity {
    std::string key;
    Name label;  // empty text: nobody has described this entity yet, it was only mentioned
    std::vector<Name> also;
    std::string remark;
    std::string image;
    std::vector<std::string> identifiers;  // outside identifiers, as URIs
    bool is_private = false;
    bool operator==(const Entity&) const = default;
};

// "The text of this source was taken from that one."
struct Copy {
    std::string of;       // key of the source copied from
    double chance = 1;    // how surely it was copied; below 1: suspected
    double fidelity = 1;  // how surely a copied reading is a faithful one
    bool operator==(const Copy&) const = default;
};

// What can be cited. A source is an entity too (same key); a piece in hand is one: its mark is read from it.
struct Source {
    std::string key;
    std::string title;
    std::string type;   // evidence kind of the profile: journal, memo, letter, photograph, piece, book, ...
    std::string grade;  // grade of the profile, e.g. "works-record"; empty: the grade of the type
    std::optional<double> reliability;  // 0..1, beats the grade
    std::string family;                 // key or word shared by sources of one author, circle, periodical or literature
    std::string
        family_kind;  // "author", "household", "circle", "literature", "independent": sets the family's dependence
    std::vector<Copy> copied_from;
    std::optional<double> dependence;    // beta inside this source; empty: the profile's
    std::optional<int> tolerance_years;  // what "about" means to this source; empty: the profile's
    std::string issued;                  // EDTF
    std::string author;
    std::string archive;  // holding institution
    std::string place;    // where it is
    std::string collection;
    std::string box;
    std::string folder;
    std::string rights;
    std::string url;
    std::vector<std::pair<std::string, std::string>> more;  // further CSL fields by CSL name, sorted by name
    bool is_private = false;
    bool operator==(const Source&) const = default;
};

// The object of a claim: an entity or a typed value.
struct Value {
    enum class Type : std::uint8_t { entity, text, number, date };
    Type type = Type::text;
    std::string text;  // key, text, decimal number, or EDTF
    std::string unit;  // of a number; UCUM-like short form, may be empty
    bool operator==(const Value&) const = default;
};

// A proposition. It is neither true nor false in itself; evidence speaks for or against it.
struct Claim {
    std::string subject;   // key
    std::string relation;  // name in the vocabulary
    Value object;
    std::string scope;        // key of a line, market, company ...; empty: everywhere
    std::string when;         // EDTF: the time for which it is claimed to hold; empty: not said
    bool is_private = false;  // does not enter the id
    bool operator==(const Claim&) const = default;
};

enum class Stance : std::uint8_t { in_favour, against };

// A source speaks for or against a claim.
struct Evidence {
    ContentId claim;
    std::string source;  // key
    Stance stance = Stance::in_favour;
    std::string at;         // where in the source: "page=12", "xywh=10,10,40,40", "t=63,70", free words otherwise
    std::string quote;      // the words themselves
    std::string certainty;  // the author's own: a hedge word of the profile or a number 0..1; empty: plain statement
    std::string reading;    // "direct" (default, empty) or "indirect"
    std::optional<double> mention;  // set: this is silence; the chance that the source would have mentioned it
    ContentId corrects;             // evidence of the same author that this takes back; empty: none
    std::string remark;
    std::string recorded_by;  // who took it down; does not enter the id
    std::string recorded_on;  // EDTF day; does not enter the id
    bool is_private = false;  // does not enter the id
    bool operator==(const Evidence&) const = default;
};

// "This source lists all objects of this relation for this subject, in this scope and time."
struct Listing {
    std::string source;
    std::string subject;
    std::string relation;
    std::string scope;
    std::string when;
    double completeness = 1;  // 0..1
    std::string at;
    std::string quote;
    std::string remark;
    std::string recorded_by;
    std::string recorded_on;
    bool is_private = false;
    bool operator==(const Listing&) const = default;
};

// Premises make a conclusion likely, with a strength and a reason. A guess is an argument with a low strength.
struct Argument {
    std::vector<ContentId> premises;  // claims, sorted, no duplicates
    ContentId conclusion;             // claim
    Stance stance = Stance::in_favour;
    double strength = 1;
    std::string reason;
    std::string rule;  // name of the vocabulary rule that made it; empty: by hand
    std::string recorded_by;
    std::string recorded_on;
    bool is_private = false;
    bool operator==(const Argument&) const = default;
};

// A dated decision on a dispute. It never alters evidence.
struct Ruling {
    enum class Decision : std::uint8_t { accepted, rejected, left_open };
    ContentId claim;
    Decision decision = Decision::left_open;
    std::string reasons;
    std::vector<ContentId> looked_at;  // evidence, lists and arguments considered, sorted
    std::string decided_by;
    std::string decided_on;  // EDTF day
    bool is_private = false;
    bool operator==(const Ruling&) const = default;
};

// Takes back an earlier record. The record stays, with the reason.
struct Withdrawal {
    ContentId of;
    std::string reason;
    bool operator==(const Withdrawal&) const = default;
};

using Record = std::variant<Entity, Source, Claim, Evidence, Listing, Argument, Ruling, Withdrawal>;

// Content ids. Who recorded a thing and when, and whether it is private, are not part of what it says.
ContentId id_of(const Claim& claim);
ContentId id_of(const Evidence& evidence);
ContentId id_of(const Listing& listing);
ContentId id_of(const Argument& argument);
ContentId id_of(const Ruling& ruling);

}  // namespace saggar
