#include "queries/path.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/model/text_lines.h"

namespace saggar {

namespace {

bool is_word_byte(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' ||
           c == ':' || c == '.' || byte >= 0x80;
}

bool lists(const std::vector<RelationIndex>& sorted, RelationIndex relation) {
    return std::binary_search(sorted.begin(), sorted.end(), relation);
}

// Thrown inside the parser only, to leave it at the first fault.
struct PathFault {
    std::size_t begin;
    std::size_t end;
    const char* id;
    std::string message;
    std::string next_step;
};

class PathParser {
public:
    PathParser(std::string_view text, const Vocabulary& vocabulary) : text_(text), vocabulary_(vocabulary) {
        out_.text = std::string(text);
        for (const Relation& relation : vocabulary.relations()) out_.symmetric.push_back(relation.symmetric);
        out_.symmetric.push_back(false);
    }

    PathExpression parse() {
        if (text_.size() > longest_path) {
            throw PathFault{longest_path, text_.size(), "path-too-long",
                            fmt::format("a path may have {} bytes, this one has {}", longest_path, text_.size()),
                            "shorten the path, for example with \"+\" in place of repeated steps"};
        }
        skip_blanks();
        while (at_ < text_.size()) {
            wants_element_ ? element_begins() : element_goes_on();
            skip_blanks();
        }
        if (wants_element_) fault_here("path-ends-early", "the path ends where a relation is expected",
                                       "add the name of a relation, or take the last sign away");
        finish_element();
        unwind_while([](char) { return true; });
        return std::move(out_);
    }

private:
    struct Open {
        char sign;       // '(', '^', '/' or '|'
        std::size_t at;  // where it stands
    };

    void skip_blanks() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\n' || text_[at_] == '\r'))
            ++at_;
    }
    [[noreturn]] void fault_here(const char* id, std::string message, std::string next) const {
        throw PathFault{at_, std::min(at_ + 1, text_.size()), id, std::move(message), std::move(next)};
    }
    bool take(char sign) {
        if (at_ >= text_.size() || text_[at_] != sign) return false;
        ++at_;
        return true;
    }

    // Where PathEltOrInverse or PathPrimary must begin.
    void element_begins() {
        const char sign = text_[at_];
        element_at_ = at_;
        if (sign == '(') {
            opened_.push_back({sign, at_++});
        } else if (sign == '^') {
            if (!opened_.empty() && opened_.back().sign == '^') {
                fault_here("path-double-inverse", "\"^\" stands before \"^\"", "write \"^(^name)\", or simply the name");
            }
            opened_.push_back({sign, at_++});
        } else if (sign == '!') {
            ++at_;
            emit_symbol(negated_set());
        } else if (is_word_byte(sign)) {
            const RelationUse use = name();
            PathSymbol symbol;
            (use.inverse ? symbol.inverse : symbol.forward).push_back(use.relation);
            emit_symbol(std::move(symbol));
        } else {
            fault_here("path-no-element", fmt::format("\"{}\" stands where a relation is expected", sign_here()),
                       "write the name of a relation, \"^\", \"!\" or \"(\" here");
        }
    }

    // After a PathPrimary or PathElt.
    void element_goes_on() {
        const char sign = text_[at_];
        if (sign == '?' || sign == '*' || sign == '+') {
            if (has_modifier_) {
                fault_here("path-double-modifier", fmt::format("\"{}\" follows another of ? * +", sign),
                           "put brackets round what comes before, for example \"(name+)?\"");
            }
            emit(sign == '?'   ? PathOperator::zero_or_one
                 : sign == '*' ? PathOperator::zero_or_more
                               : PathOperator::one_or_more);
            has_modifier_ = true;
            ++at_;
        } else if (sign == '/' || sign == '|') {
            finish_element();
            unwind_while([sign](char open) { return open == '/' || (open == '|' && sign == '|'); });
            opened_.push_back({sign, at_++});
            wants_element_ = true;
        } else if (sign == ')') {
            finish_element();
            unwind_while([](char open) { return open != '('; });
            if (opened_.empty()) {
                fault_here("path-bracket", "this \")\" closes nothing", "take it away, or add \"(\" before");
            }
            opened_.pop_back();
            has_modifier_ = false;  // a group is a PathPrimary
            ++at_;
        } else if (is_word_byte(sign) || sign == '(' || sign == '^' || sign == '!') {
            fault_here("path-no-operator", "two steps stand side by side", "put \"/\" (then) or \"|\" (or) between them");
        } else {
            fault_here("path-bad-sign", fmt::format("\"{}\" has no meaning in a path", sign_here()),
                       "use names of relations and / | ^ * + ? ! ( )");
        }
    }

    // The element is complete: a '^' before it applies to all of it, modifier included.
    void finish_element() {
        if (!opened_.empty() && opened_.back().sign == '^') {
            opened_.pop_back();
            emit(PathOperator::inverse);
        }
        has_modifier_ = false;
    }

    template <class Test>
    void unwind_while(Test test) {
        while (!opened_.empty() && test(opened_.back().sign)) {
            const Open open = opened_.back();
            if (open.sign == '(') {
                throw PathFault{open.at, open.at + 1, "path-bracket", "this \"(\" is never closed",
                                "add \")\", or take the bracket away"};
            }
            opened_.pop_back();
            emit(open.sign == '/' ? PathOperator::sequence : PathOperator::alternative);
        }
    }

    void emit(PathOperator op) { out_.postfix.push_back({op, 0}); }
    void emit_symbol(PathSymbol symbol) {
        if (out_.symbols.size() == most_path_symbols) {
            throw PathFault{element_at_, at_, "path-too-long", fmt::format("a path may have {} steps", most_path_symbols),
                            "shorten the path, for example with \"+\" in place of repeated steps"};
        }
        out_.postfix.push_back({PathOperator::symbol, static_cast<std::uint32_t>(out_.symbols.size())});
        out_.symbols.push_back(std::move(symbol));
        wants_element_ = false;
        has_modifier_ = false;
    }

    std::string sign_here() const {
        std::size_t end = at_ + 1;
        while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0) == 0x80) ++end;
        return std::string(text_.substr(at_, end - at_));
    }

    RelationUse name() {
        const std::size_t begin = at_;
        while (at_ < text_.size() && is_word_byte(text_[at_])) ++at_;
        const std::string_view word = text_.substr(begin, at_ - begin);
        const std::optional<RelationUse> use = vocabulary_.find_use(word);
        if (!use) {
            throw PathFault{begin, at_, "path-unknown-relation",
                            fmt::format("\"{}\" is no relation of the vocabulary \"{}\"{}", word, vocabulary_.name(),
                                        Vocabulary::suggestion(vocabulary_.nearest_relation(word))),
                            "use the name or the inverse name of a relation"};
        }
        return *use;
    }

    // PathNegatedPropertySet, after the '!'. An empty set leaves every step from subject to object.
    PathSymbol negated_set() {
        PathSymbol symbol;
        symbol.negated = true;
        skip_blanks();
        const std::size_t open_at = at_;
        if (!take('(')) {
            one_in_set(symbol);
        } else {
            skip_blanks();
            if (take(')')) {
                symbol.forward_side = true;
                return symbol;
            }
            for (;;) {
                one_in_set(symbol);
                skip_blanks();
                if (take(')')) break;
                if (at_ >= text_.size()) {
                    throw PathFault{open_at, open_at + 1, "path-bracket", "this \"(\" is never closed", "add \")\""};
                }
                if (!take('|')) {
                    fault_here("path-negated-set", fmt::format("\"{}\" cannot stand in a negated set", sign_here()),
                               "after \"!\" write one name, or names with \"|\" between them in brackets");
                }
                skip_blanks();
            }
        }
        std::sort(symbol.forward.begin(), symbol.forward.end());
        std::sort(symbol.inverse.begin(), symbol.inverse.end());
        return symbol;
    }

    void one_in_set(PathSymbol& symbol) {
        const bool turned = take('^');
        skip_blanks();
        if (at_ >= text_.size() || !is_word_byte(text_[at_])) {
            fault_here("path-negated-set",
                       at_ < text_.size() ? fmt::format("\"{}\" cannot stand in a negated set", sign_here())
                                          : std::string("the path ends inside a negated set"),
                       "after \"!\" write one name, or names with \"|\" between them in brackets");
        }
        const RelationUse use = name();
        const bool inverse = use.inverse != turned;
        (inverse ? symbol.inverse_side : symbol.forward_side) = true;
        // A symmetric relation is excluded whichever way it is written.
        const bool both = out_.symmetric[use.relation];
        if (!inverse || both) symbol.forward.push_back(use.relation);
        if (inverse || both) symbol.inverse.push_back(use.relation);
    }

    std::string_view text_;
    const Vocabulary& vocabulary_;
    PathExpression out_;
    std::vector<Open> opened_;
    std::size_t at_ = 0;
    std::size_t element_at_ = 0;
    bool wants_element_ = true;
    bool has_modifier_ = false;
};

}  // namespace

bool PathSymbol::fits(RelationIndex relation, bool walked_forward) const {
    const bool listed = lists(walked_forward ? forward : inverse, relation);
    if (!negated) return listed;
    return !listed && (walked_forward ? forward_side : inverse_side);
}

std::optional<PathExpression> parse_path(std::string_view text, const Vocabulary& vocabulary, Problems& problems) {
    try {
        return PathParser(text, vocabulary).parse();
    } catch (const PathFault& fault) {
        Problem problem;
        problem.id = fault.id;
        problem.place = TextLines("", text).place(fault.begin, fault.end);
        if (text.find('\n') == std::string_view::npos) problem.place.line = 0;  // one line: the caret says it all
        problem.message = fault.message;
        problem.next_step = fault.next_step;
        problems.add(std::move(problem));
        return std::nullopt;
    }
}

PathExpression any_path(const Vocabulary& vocabulary) {
    Problems problems;
    std::optional<PathExpression> path = parse_path("(!()|^!())+", vocabulary, problems);
    if (!path) throw Fault("the path of all relations cannot be read", "this is a fault in saggar; please report it");
    return std::move(*path);
}

}  // namespace saggar
