// The only file that knows the command-line library.
#include "app/args.h"

#include <unistd.h>

#include <CLI/CLI.hpp>

#include <cstdlib>
#include <deque>
#include <exception>
#include <sstream>

#include "app/text/folding.h"
#include "app/text/help.h"
#include "kg/model/fault.h"

namespace saggar::app {
namespace {

// Where the library puts what it read for one verb.
struct Slots {
    std::deque<std::pair<std::string, std::vector<std::string>>> values;  // deque: addresses must stay
    std::deque<std::pair<std::string, bool>> flags;
};

// "-o,--output" is asked for as "--output".
std::string long_name(const Option& option) { return option.name.substr(option.name.rfind(',') + 1); }

void describe(CLI::App& command, const Verb& verb, Slots& slots, Slots& operands) {
    for (const Operand& operand : verb.operands) {
        operands.values.emplace_back(operand.name, std::vector<std::string>{});
        CLI::Option* added = command.add_option(operand.name, operands.values.back().second, operand.help);
        added->type_name("");
        if (operand.required) added->required();
        if (!operand.repeated) added->expected(1)->allow_extra_args(false);
    }
    for (const Option& option : verb.options) {
        if (option.value.empty()) {
            slots.flags.emplace_back(long_name(option), false);
            command.add_flag(option.name, slots.flags.back().second, option.help);
        } else {
            slots.values.emplace_back(long_name(option), std::vector<std::string>{});
            CLI::Option* added = command.add_option(option.name, slots.values.back().second, option.help);
            added->type_name(option.value)->expected(1);
            if (option.repeated)
                added->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)->expected(1, 1000)->allow_extra_args(false);
            else
                added->multi_option_policy(CLI::MultiOptionPolicy::TakeLast)->allow_extra_args(false);
        }
    }
    if (!verb.more.empty()) command.footer("\n" + verb.more);
}

void fill(Call& call, const Slots& slots, const Slots& operands) {
    for (const auto& [name, values] : slots.values)
        if (!values.empty()) call.options[name] = values;
    for (const auto& [name, given] : slots.flags)
        if (given) call.options[name] = {""};
    for (const auto& [name, values] : operands.values) call.operands[name] = values;
}

std::string default_graph() {
    const char* named = std::getenv("SAGGAR_GRAPH");
    return named != nullptr && *named != '\0' ? named : "./saggar-graph";
}

int report(const Fault& fault, std::ostream& err, int status) {
    tell(err, "saggar: " + std::string(fault.what()));
    if (!fault.next_step().empty()) tell(err, "    next: " + std::string(fault.next_step()));
    return status;
}

int guarded(const Verb& verb, Call& call) {
    try {
        const int status = verb.run(call);
        if (!call.out->flush()) throw Fault("the answer could not be written", "see that the disk that takes the output is not full");
        return status;
    } catch (const UsageFault& fault) {
        return report(fault, *call.err, usage);
    } catch (const Fault& fault) {
        return report(fault, *call.err, trouble);
    } catch (const std::bad_alloc&) {
        return report(Fault("out of memory", "ask for less at once, or use a machine with more"), *call.err, trouble);
    } catch (const std::exception& error) {
        return report(Fault(error.what(), "this is a fault of the program; please report it with the command you gave"),
                      *call.err, trouble);
    }
}

// Files and documents, which a line end in the wrong place would spoil.
bool prints_data(const std::string& verb, const Call& call) {
    if (verb == "profile" || verb == "vocabulary") return call.operand("ACTION") == "show";
    return verb == "export" || verb == "draw" || (verb == "load" && call.has("--suggest"));
}

}  // namespace

int run(const std::vector<std::string>& words, std::ostream& out, std::ostream& err) {
    CLI::App app{"saggar: what is known about factory-made tableware, who says so, and how far to trust it", "saggar"};
    app.set_version_flag("--version", SAGGAR_VERSION);
    app.require_subcommand(1);
    app.fallthrough();
    Call call;
    call.graph = default_graph();
    call.out = &out;
    call.err = &err;
    call.layout = layout_of_terminal();
    app.add_option("--graph", call.graph, "folder of the graph (else $SAGGAR_GRAPH, else ./saggar-graph)")
        ->type_name("DIR");
    app.add_flag("--json", call.json, "answer as JSON, in a documented shape (see app/schema/)");
    app.add_option("--as-of", call.as_of, "answer as the graph stood then")->type_name("DATE|ENTRY");
    app.add_option("--author", call.author, "who makes this change (else the graph's author)")->type_name("NAME");
    app.add_flag("--with-private", call.with_private, "include records marked private");

    std::deque<Slots> options;
    std::deque<Slots> operands;
    std::vector<std::pair<const Verb*, CLI::App*>> commands;
    for (const Verb& verb : verbs()) {
        CLI::App* command = app.add_subcommand(verb.name, verb.summary);
        command->fallthrough();
        describe(*command, verb, options.emplace_back(), operands.emplace_back());
        commands.emplace_back(&verb, command);
    }
    std::vector<std::string> reversed(words.rbegin(), words.rend());
    try {
        app.parse(reversed);
    } catch (const CLI::Success& wanted) {  // --help, --version
        std::ostringstream help;
        const int status = app.exit(wanted, help, err);
        out << fitted_help(help.str(), call.layout.width);
        return status;
    } catch (const CLI::ParseError& error) {
        tell(err, "saggar: " + std::string(error.what()));
        std::string about;
        for (const auto& [verb, command] : commands)
            if (command->parsed()) about = " " + verb->name;
        err << "    next: see `saggar" << about << " --help`\n";
        return usage;
    }
    for (std::size_t i = 0; i < commands.size(); ++i) {
        if (!commands[i].second->parsed()) continue;
        fill(call, options[i], operands[i]);
        // Data goes out as it is, text for a person within the width.
        const bool is_data = call.json || prints_data(commands[i].first->name, call);
        FoldingBuffer folding(out, call.layout.width);
        std::ostream within(&folding);
        if (!is_data && width_is_known(STDOUT_FILENO)) call.out = &within;
        return guarded(*commands[i].first, call);
    }
    return usage;
}

}  // namespace saggar::app
