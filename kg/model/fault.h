// Faults: what goes wrong with the machine, the files of the graph, or the calling code.
//
// One small family of exceptions; every third-party error (RocksDB status, JSON exception, BDD code) is
// translated into it in one place each. Problems with a user's data are not faults, see problem.h.
#pragma once

#include <stdexcept>
#include <string>

namespace saggar {

class Fault : public std::runtime_error {
public:
    Fault(std::string message, std::string next_step)
        : std::runtime_error(std::move(message)), next_step_(std::move(next_step)) {}
    const std::string& next_step() const { return next_step_; }

private:
    std::string next_step_;
};

// The graph folder cannot be read or written: missing, corrupt, disk full, wrong version.
class StoreFault : public Fault {
public:
    using Fault::Fault;
};

// Another process writes to the graph.
class InUse : public StoreFault {
public:
    using StoreFault::StoreFault;
};

// The user asked for something that is not there or cannot be (unknown key, ambiguous id, bad option value).
class UsageFault : public Fault {
public:
    using Fault::Fault;
};

// A limit was met (nodes, depth, time); the message says which.
class LimitFault : public Fault {
public:
    using Fault::Fault;
};

}  // namespace saggar
