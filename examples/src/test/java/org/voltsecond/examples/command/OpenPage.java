package org.voltsecond.examples.command;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.WebSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.voltsecond.units.JsonText;

/** A page that stays open in a browser without a window, to be worked and read step by step (Chrome DevTools protocol). */
final class OpenPage implements AutoCloseable {
    private static final int PATIENCE = 60;
    private static final Pattern ADDRESS = Pattern.compile("\"webSocketDebuggerUrl\": *\"(ws:[^\"]*/page/[^\"]*)\"");

    private final Process process;
    private final WebSocket socket;
    private final Answers answers;
    private int calls;

    private OpenPage(Process process, WebSocket socket, Answers answers) {
        this.process = process;
        this.socket = socket;
        this.answers = answers;
    }

    /** Opens a file. The browser reaches no network. */
    static OpenPage open(Browser browser, Path page, int width)
            throws IOException, InterruptedException, ExecutionException, TimeoutException {
        // not within a folder that a test takes away, since a browser that ends still writes there for a while
        Path profile = Files.createTempDirectory("voltsecond-browser").resolve("profile");
        Process process = new ProcessBuilder(
                        browser.program().toString(),
                        "--headless",
                        "--no-sandbox",
                        "--disable-gpu",
                        "--no-first-run",
                        "--disable-background-networking",
                        "--disable-component-update",
                        "--disable-sync",
                        "--host-resolver-rules=MAP * ~NOTFOUND",
                        "--remote-debugging-port=0",
                        "--user-data-dir=" + profile,
                        "--window-size=" + width + ",1400",
                        page.toUri().toString())
                .redirectErrorStream(true)
                .redirectOutput(
                        profile.resolveSibling(profile.getFileName() + ".log").toFile())
                .start();
        HttpClient client = HttpClient.newHttpClient();
        Answers answers = new Answers();
        String address = address(client, profile);
        WebSocket socket = client.newWebSocketBuilder()
                .buildAsync(URI.create(address), answers)
                .get(PATIENCE, TimeUnit.SECONDS);
        OpenPage open = new OpenPage(process, socket, answers);
        open.call("Runtime.enable", "{}");
        open.awaitPage("");
        return open;
    }

    /** Until the page is there, what is asked is answered by the empty one before it, or by none. */
    void awaitPage(String name) throws InterruptedException, ExecutionException, TimeoutException {
        for (int tried = 0; tried < 20 * PATIENCE; tried++) {
            String told = call(
                    "Runtime.evaluate",
                    "{\"expression\":\"document.readyState + location.protocol + location.pathname\",\"returnByValue\":true}");
            if (told.contains("completefile:") && told.contains(name)) {
                return;
            }
            Thread.sleep(50);
        }
        throw new TimeoutException("the page does not load");
    }

    /** Waits until a condition holds, which the page may need some time for. */
    void await(String condition) throws InterruptedException, ExecutionException, TimeoutException {
        for (int tried = 0; tried < 20 * PATIENCE; tried++) {
            if (evaluate(condition).equals("true")) {
                return;
            }
            Thread.sleep(50);
        }
        throw new TimeoutException("the page does not come to: " + condition);
    }

    private static String address(HttpClient client, Path profile)
            throws IOException, InterruptedException, TimeoutException {
        Path port = profile.resolve("DevToolsActivePort");
        for (int tried = 0; tried < 20 * PATIENCE; tried++) {
            if (Files.exists(port) && !Files.readString(port).isEmpty()) {
                String number = Files.readString(port).lines().findFirst().orElseThrow();
                HttpRequest list = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + number + "/json/list"))
                        .build();
                Matcher found = ADDRESS.matcher(
                        client.send(list, HttpResponse.BodyHandlers.ofString()).body());
                if (found.find()) {
                    return found.group(1);
                }
            }
            Thread.sleep(50);
        }
        throw new TimeoutException("the browser does not open the page");
    }

    /** The value of an expression, which may be a promise, as a text. */
    String evaluate(String expression) throws InterruptedException, ExecutionException, TimeoutException {
        String told = call(
                "Runtime.evaluate",
                "{\"returnByValue\":true,\"awaitPromise\":true,\"expression\":"
                        + JsonText.quoted("Promise.resolve(" + expression
                                + ").then(value => btoa(unescape(encodeURIComponent(String(value)))))")
                        + "}");
        Matcher value =
                Pattern.compile("\"type\":\"string\",\"value\":\"([^\"]*)\"").matcher(told);
        if (!value.find()) {
            throw new IllegalStateException(told);
        }
        return new String(Base64.getDecoder().decode(value.group(1)), StandardCharsets.UTF_8);
    }

    /** Presses a key and lets it go. */
    void key(String name) throws InterruptedException, ExecutionException, TimeoutException {
        boolean character = name.length() == 1;
        String code = switch (name) {
            case "Tab" -> "9";
            case "Enter" -> "13";
            case "ArrowRight" -> "39";
            default -> String.valueOf((int) name.charAt(0));
        };
        String text = character ? name : name.equals("Enter") ? "\\r" : "";
        String which = "\"key\":\"" + name + "\",\"windowsVirtualKeyCode\":" + (character ? "0" : code);
        call(
                "Input.dispatchKeyEvent",
                "{\"type\":\"" + (text.isEmpty() ? "rawKeyDown" : "keyDown") + "\"," + which + ",\"text\":\"" + text
                        + "\"}");
        call("Input.dispatchKeyEvent", "{\"type\":\"keyUp\"," + which + "}");
    }

    /** Fingers at one height, each at its place across. */
    void touch(String kind, double y, double... across)
            throws InterruptedException, ExecutionException, TimeoutException {
        String points = Arrays.stream(across)
                .mapToObj(x -> "{\"x\":" + x + ",\"y\":" + y + "}")
                .collect(Collectors.joining(","));
        call("Input.dispatchTouchEvent", "{\"type\":\"" + kind + "\",\"touchPoints\":[" + points + "]}");
    }

    byte[] screenshot(String options) throws InterruptedException, ExecutionException, TimeoutException {
        Matcher data = Pattern.compile("\"data\":\"([^\"]*)\"").matcher(call("Page.captureScreenshot", options));
        return data.find() ? Base64.getDecoder().decode(data.group(1)) : new byte[0];
    }

    /** What the page wrote to its console, and what went wrong in it. */
    List<String> console() {
        return answers.console();
    }

    String call(String method, String parameters) throws InterruptedException, ExecutionException, TimeoutException {
        calls++;
        CompletableFuture<String> answer = answers.to(calls);
        var unused = socket.sendText(
                "{\"id\":" + calls + ",\"method\":\"" + method + "\",\"params\":" + parameters + "}", true);
        return answer.get(PATIENCE, TimeUnit.SECONDS);
    }

    @Override
    public void close() {
        socket.abort();
        process.destroy();
        try {
            if (!process.waitFor(PATIENCE, TimeUnit.SECONDS)) {
                process.destroyForcibly();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** Puts messages together and hands each to who waits for it. */
    private static final class Answers implements WebSocket.Listener {
        private final StringBuilder message = new StringBuilder();
        private final List<String> console = new java.util.concurrent.CopyOnWriteArrayList<>();
        private volatile int awaited;
        private volatile CompletableFuture<String> next = new CompletableFuture<>();

        CompletableFuture<String> to(int call) {
            next = new CompletableFuture<>();
            awaited = call;
            return next;
        }

        List<String> console() {
            return List.copyOf(console);
        }

        @Override
        public CompletionStage<?> onText(WebSocket from, CharSequence data, boolean last) {
            message.append(data);
            if (last) {
                String whole = message.toString();
                message.setLength(0);
                if (whole.startsWith("{\"id\":" + awaited + ",")) {
                    next.complete(whole);
                } else if (whole.contains("\"Runtime.consoleAPICalled\"")
                        || whole.contains("\"Runtime.exceptionThrown\"")) {
                    console.add(whole);
                }
            }
            from.request(1);
            return CompletableFuture.completedFuture(null);
        }
    }
}
