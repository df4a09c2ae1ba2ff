#include "kg/weigh/bdd.h"

#include <bdd.h>
#include <fmt/format.h>

#include <algorithm>
#include <mutex>
#include <unordered_map>

#include "kg/model/fault.h"

extern "C" int* bddrefstack;  // of BuDDy's kernel

namespace saggar::weighing {

namespace {

constexpr std::size_t most_leaves = 20'000;  // BuDDy recurses once per leaf
constexpr int first_table_size = 1'000;
constexpr int cache_ratio = 4;  // one cache entry for so many table nodes

std::mutex the_table;
int the_error = 0;

void note_buddy_error(int code) { the_error = code; }

// The node table, for as long as one circuit takes. The mutex is held all the while.
class BuddyTable {
public:
    BuddyTable(std::size_t leaves, std::size_t node_budget) : lock_(the_table) {
        const auto least = 2 * leaves + 16;  // the leaves themselves take two nodes each
        const auto budget = static_cast<int>(std::min<std::size_t>(std::max(node_budget, least), 1u << 30));
        the_error = 0;
        bdd_init(std::min<int>(first_table_size + 8 * static_cast<int>(leaves), budget / 2), first_table_size);
        bdd_error_hook(note_buddy_error);
        bdd_gbc_hook(nullptr);  // the default one prints
        bdd_setcacheratio(cache_ratio);
        bdd_setmaxincrease(budget);
        bdd_setmaxnodenum(budget);
        bdd_setvarnum(static_cast<int>(leaves));
        clear_stack(leaves);
    }
    ~BuddyTable() { bdd_done(); }
    BuddyTable(const BuddyTable&) = delete;
    BuddyTable& operator=(const BuddyTable&) = delete;

    // Whether all went well so far. Only a full table is an answer; anything else is a fault.
    bool fits() const {
        if (the_error == 0) return true;
        if (the_error == BDD_NODENUM) return false;
        throw LimitFault(fmt::format("the decision diagram failed: {}", bdd_errstring(the_error)),
                         "Ask with a smaller node budget.");
    }

private:
    // BuDDy keeps what an operation has found so far on a stack of 2 leaves + 4 nodes. It may take a place on it before it
    // knows what to put there (`*top++ = f()` leaves the order open), and its collector looks at all places taken. The stack
    // comes from malloc, so what is there the first time must be made harmless.
    static void clear_stack(std::size_t leaves) {
        if (the_error == 0) std::fill_n(bddrefstack, 2 * leaves + 4, 0);
    }

    std::lock_guard<std::mutex> lock_;
};

// One reference to a node of the table.
class Held {
public:
    explicit Held(BDD node = 0) : node_(bdd_addref(node)) {}
    Held(const Held& other) : Held(other.node_) {}
    Held& operator=(const Held& other) {
        bdd_addref(other.node_);
        bdd_delref(node_);
        node_ = other.node_;
        return *this;
    }
    ~Held() { bdd_delref(node_); }
    BDD node() const { return node_; }

private:
    BDD node_;
};

// The functions of a circuit's nodes; a gate's is let go after its last use.
class Builder {
public:
    explicit Builder(const Circuit& circuit) : circuit_(circuit), uses_(1 + circuit.leaves + circuit.gates(), 0) {
        for (const Event input : circuit.inputs) ++uses_[input.node()];
        for (const Event root : circuit.roots) ++uses_[root.node()];
        functions_.assign(uses_.size(), Held());
        functions_[0] = Held(1);
        for (std::uint32_t leaf = 0; leaf < circuit.leaves; ++leaf) functions_[leaf + 1] = Held(bdd_ithvarpp(static_cast<int>(leaf)).id());
    }

    bool build(const BuddyTable& table) {
        if (!build_gates(circuit_.gates(), table)) return false;
        for (const Event root : circuit_.roots) roots_.push_back(take(root));
        return table.fits();
    }

    // The leading roots one after the other, as far as the table goes; how many it were. What was held before the table
    // was full stays good.
    std::size_t build_conjunction(const BuddyTable& table) {
        Held all(1);
        std::size_t taken = 0;
        for (const Event root : circuit_.roots) {
            if (root.node() > circuit_.leaves && !build_gates(root.node() - circuit_.leaves, table)) break;
            const Held more(bdd_apply(all.node(), take(root).node(), bddop_and));
            if (!table.fits()) break;
            all = more;
            ++taken;
        }
        roots_.push_back(all);
        return taken;
    }

    const std::vector<Held>& roots() const { return roots_; }

private:
    // Those before gate `end` that are not built yet.
    bool build_gates(std::size_t end, const BuddyTable& table) {
        for (; built_ < end; ++built_) {
            Held all(1);
            for (const Event input : circuit_.gate_inputs(built_)) {
                all = Held(bdd_apply(all.node(), take(input).node(), bddop_and));
                if (!table.fits()) return false;
            }
            functions_[circuit_.gate_index(built_)] = all;
        }
        return true;
    }

    Held take(Event event) {
        Held& function = functions_[event.node()];
        const Held taken = event.negated() ? Held(bdd_not(function.node())) : function;
        if (--uses_[event.node()] == 0) function = Held();
        return taken;
    }

    const Circuit& circuit_;
    std::vector<std::uint32_t> uses_;
    std::vector<Held> functions_;
    std::vector<Held> roots_;
    std::size_t built_ = 0;  // gates
};

// Copies what the roots reach, lowest level first, so that children come before parents.
Diagram flatten(const std::vector<Held>& roots) {
    std::vector<BDD> found;
    std::unordered_map<BDD, std::uint32_t> index{{0, Diagram::no}, {1, Diagram::yes}};
    const auto meet = [&](BDD node) {
        if (index.emplace(node, 0).second) found.push_back(node);
    };
    for (const Held& root : roots) meet(root.node());
    for (std::size_t i = 0; i < found.size(); ++i) {
        const BDD node = found[i];
        meet(bdd_low(node));
        meet(bdd_high(node));
    }
    std::stable_sort(found.begin(), found.end(), [](BDD a, BDD b) { return bdd_var(a) > bdd_var(b); });
    Diagram diagram;
    diagram.nodes.reserve(found.size());
    std::uint32_t next = Diagram::first_node;
    for (const BDD node : found) index[node] = next++;
    for (const BDD node : found) {
        diagram.nodes.push_back({static_cast<std::uint32_t>(bdd_var(node)), index[bdd_low(node)], index[bdd_high(node)]});
    }
    for (const Held& root : roots) diagram.roots.push_back(index[root.node()]);
    return diagram;
}

}  // namespace

std::optional<Diagram> work_out(const Circuit& circuit, std::size_t node_budget) {
    if (circuit.leaves > most_leaves || 2 * std::size_t{circuit.leaves} + 16 > node_budget) return std::nullopt;
    const BuddyTable table(std::max<std::size_t>(circuit.leaves, 1), node_budget);
    if (!table.fits()) return std::nullopt;
    Builder builder(circuit);
    if (!builder.build(table)) return std::nullopt;
    return flatten(builder.roots());
}

Conjunction work_out_conjunction(const Circuit& circuit, std::size_t node_budget) {
    Conjunction result;
    result.diagram.roots.push_back(Diagram::yes);
    if (circuit.leaves > most_leaves || 2 * std::size_t{circuit.leaves} + 16 > node_budget) return result;
    const BuddyTable table(std::max<std::size_t>(circuit.leaves, 1), node_budget);
    if (!table.fits()) return result;
    Builder builder(circuit);
    result.taken = builder.build_conjunction(table);
    result.diagram = flatten(builder.roots());
    return result;
}

}  // namespace saggar::weighing
