/** Milliseconds that this process has computed: a busy machine does not make it slower. Units: milliseconds. */
export const spentMs = (): number => process.cpuUsage().user / 1000;
