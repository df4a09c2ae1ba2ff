// One helper thread that works jobs off in order, so that sorting goes on beside reading.
#pragma once

#include <condition_variable>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <thread>

namespace saggar {

// give() is to be called from one thread, waiting from any. A job's exception comes out of what is called next, and no further job
// is begun.
class Background {
public:
    Background() = default;
    ~Background();  // jobs not yet begun are dropped
    Background(const Background&) = delete;
    Background& operator=(const Background&) = delete;

    using Ticket = std::size_t;
    // `bytes`: the memory that the job holds on to; waits while too much waits already. Jobs end in the order of their tickets.
    Ticket give(std::function<void()> job, std::size_t bytes);
    // Waits until the job is done, and all before it.
    void wait_for(Ticket job);
    // Waits until all jobs given so far are done.
    void finish();

private:
    void work();

    std::mutex guard_;
    std::condition_variable changed_;
    struct Job {
        std::function<void()> run;
        std::size_t bytes = 0;
    };
    std::deque<Job> waiting_;
    std::size_t waiting_bytes_ = 0;
    Ticket given_ = 0;
    Ticket done_ = 0;
    bool closing_ = false;
    std::exception_ptr failure_;
    std::thread thread_;  // started by the first job
};

}  // namespace saggar
