/*
 * Preloaded into BlueZ's emulator. It opens kernel crypto sockets (AF_ALG) for each connection and
 * closes the connection where the kernel has none, although nothing here is encrypted. So where the
 * real call fails, a plain socket stands in and its bind succeeds; every other call passes through.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <sys/socket.h>

typedef int (*socket_call)(int, int, int);
typedef int (*bind_call)(int, const struct sockaddr *, socklen_t);

int socket(int domain, int type, int protocol)
{
	socket_call real = (socket_call)dlsym(RTLD_NEXT, "socket");
	int fd = real(domain, type, protocol);

	if (fd >= 0 || domain != AF_ALG)
		return fd;
	return real(AF_UNIX, SOCK_DGRAM | (type & SOCK_CLOEXEC), 0);
}

int bind(int fd, const struct sockaddr *address, socklen_t length)
{
	bind_call real = (bind_call)dlsym(RTLD_NEXT, "bind");
	int result = real(fd, address, length);

	if (result < 0 && address->sa_family == AF_ALG)
		return 0;
	return result;
}
