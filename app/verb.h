// A verb of the command line: what it is called, what it takes, and what it does.
//
// Each verb is one file in app/verbs/ that returns a Verb. args.cpp turns the description into a parser and a manual
// page; nothing else knows the command-line library.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "app/text/layout.h"

namespace saggar::app {

// Exit statuses, the same for every verb.
inline constexpr int fine = 0;
inline constexpr int trouble = 1;  // a problem with the data, or the answer is "cannot say"
inline constexpr int usage = 2;    // wrong usage

struct Option {
    std::string name;   // "--to"
    std::string value;  // "KEY"; empty: a flag
    std::string help;
    bool repeated = false;  // may be given several times
};

struct Operand {
    std::string name;  // "KEY"
    std::string help;
    bool required = true;
    bool repeated = false;
};

struct Call;

struct Verb {
    std::string name;
    std::string summary;  // one line
    std::vector<Operand> operands;
    std::vector<Option> options;
    std::function<int(Call&)> run;
    std::string more;  // further paragraphs of the manual page
};

// One use of a verb: its options as given, and where to write.
struct Call {
    std::map<std::string, std::vector<std::string>> options;  // by name with dashes; flags: {""}
    std::map<std::string, std::vector<std::string>> operands;
    std::string graph;  // folder
    bool json = false;
    bool with_private = false;
    std::string as_of;   // entry number or ISO date; empty: now
    std::string author;  // empty: the graph's
    std::ostream* out = nullptr;
    std::ostream* err = nullptr;
    Layout layout;  // width and colour of `out`

    bool has(const std::string& option) const { return options.count(option) != 0; }
    // The (last) value of an option or operand, or the fallback.
    std::string get(const std::string& option, const std::string& fallback = "") const;
    std::string operand(const std::string& name) const;
    std::vector<std::string> all(const std::string& name) const;  // of an option or operand
    // Numbers; UsageFault naming the option where the text is not one or is outside the bounds.
    std::size_t count(const std::string& option, std::size_t fallback, std::size_t least, std::size_t most) const;
    double number(const std::string& option, double fallback, double least, double most) const;
};

}  // namespace saggar::app
