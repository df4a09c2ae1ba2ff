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

    // `bytes`: the memory that the job holds on to; waits while too much waits already.
    void give(std::function<void()> job, std::size_t bytes);
    // Waits until all jobs are done.
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
    bool busy_ = false;
    bool closing_ = false;
    std::exception_ptr failure_;
    std::thread thread_;  // started by the first job
};

}  // namespace saggar
