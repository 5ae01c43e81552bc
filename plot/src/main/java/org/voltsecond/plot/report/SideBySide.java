package org.voltsecond.plot.report;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.voltsecond.engine.Watch;

/** Does independent pieces of work at the same time, under the watches of who asks, and fails as the first of them does. */
final class SideBySide {
    private SideBySide() {}

    /** A piece of work that writes something. */
    @FunctionalInterface
    interface Task {
        void run() throws IOException;
    }

    static void run(List<Task> tasks) throws IOException {
        int threads = Math.min(tasks.size(), Runtime.getRuntime().availableProcessors());
        Watch.Handing watched = Watch.handing();
        ExecutorService executor = Executors.newFixedThreadPool(threads);
        try {
            for (Future<Object> future : executor.invokeAll(
                    tasks.stream().map(task -> callable(watched, task)).toList())) {
                future.get();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new InterruptedIOException("interrupted while writing");
        } catch (ExecutionException e) {
            throw rethrown(e);
        } finally {
            executor.shutdownNow();
        }
    }

    private static Callable<Object> callable(Watch.Handing watched, Task task) {
        return () -> {
            watched.over(() -> {
                try {
                    task.run();
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                }
            });
            return task;
        };
    }

    /** What the task threw, as if it had been run here. */
    private static IOException rethrown(ExecutionException e) {
        if (e.getCause() instanceof UncheckedIOException unchecked) {
            return Objects.requireNonNull(unchecked.getCause());
        }
        if (e.getCause() instanceof RuntimeException exception) {
            throw exception;
        }
        if (e.getCause() instanceof Error error) {
            throw error;
        }
        return new IOException(e);
    }
}
