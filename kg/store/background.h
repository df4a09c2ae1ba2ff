// One helper thread that works jobs off in order, so that sorting goes on beside reading.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>

namespace saggar {

// To be called from one thread. A job's exception comes out of the next give() or finish(), and no further job is begun.
class Background {
public:
    Background() = default;
    ~Background();  // jobs not yet begun are dropped
    Background(const Background&) = delete;
    Background& operator=(const Background&) = delete;

    // Waits while two jobs wait already: what they hold must fit into memory.
    void give(std::function<void()> job);
    // Waits until all jobs are done.
    void finish();

private:
    void work();

    std::mutex guard_;
    std::condition_variable changed_;
    std::deque<std::function<void()>> waiting_;
    bool busy_ = false;
    bool closing_ = false;
    std::exception_ptr failure_;
    std::thread thread_;  // started by the first job
};

}  // namespace saggar
